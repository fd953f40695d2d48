//! Where labels go: never on a hoof, never on one another, never off the drawing.
//!
//! Each label tries places around its anchor, nearest first on its preferred side, and takes the
//! cheapest free one; those first in the list choose first. When all near places are taken the
//! whole drawing is searched; a label that fits nowhere is left out rather than laid on another.

use super::area::{Area, Spot};

/// A label that wants a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// What it speaks of.
    pub anchor: Spot,
    /// Width of its plate.
    pub width: f64,
    /// Height of its plate.
    pub height: f64,
    /// Preferred side of the anchor, a unit vector.
    pub side: (f64, f64),
    /// Space between anchor and plate.
    pub gap: f64,
}

/// A label in its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// The plate.
    pub area: Area,
    /// The leader from the plate's edge to the anchor, when the plate is not beside it.
    pub leader: Option<(Spot, Spot)>,
}

/// What labels must keep clear of.
#[derive(Clone, Debug, PartialEq)]
pub struct Surroundings {
    /// They stay inside this.
    pub inside: Area,
    /// They cover none of these.
    pub keep_clear: Vec<Area>,
    /// They cover these lines only when there is no better place.
    pub lines: Vec<(Spot, Spot)>,
}

/// Finds a place for each label; `None` for one that fits nowhere.
pub fn place(wanted: &[Wanted], around: &Surroundings) -> Vec<Option<Placed>> {
    let mut taken: Vec<Placed> = Vec::new();
    wanted
        .iter()
        .map(|label| {
            let placed = best(label, near(label), around, &taken)
                .or_else(|| best(label, anywhere(label, around), around, &taken));
            taken.extend(placed);
            placed
        })
        .collect()
}

fn best(
    label: &Wanted,
    middles: impl Iterator<Item = Spot>,
    around: &Surroundings,
    taken: &[Placed],
) -> Option<Placed> {
    let mut cheapest: Option<(f64, Placed)> = None;
    for middle in middles {
        let area = Area::around(middle, label.width, label.height);
        let space = label.height * 0.12;
        let roomy = area.grown(space);
        let free = around.inside.contains(&area)
            && !around.keep_clear.iter().any(|other| other.overlaps(&area))
            && !taken.iter().any(|other| other.area.overlaps(&roomy));
        if !free {
            continue;
        }
        let placed = Placed { area, leader: leader(label, &area) };
        let price = price(label, &placed, around, taken);
        if cheapest.is_none_or(|(least, _)| price < least) {
            cheapest = Some((price, placed));
        }
    }
    cheapest.map(|(_, placed)| placed)
}

/// Places at growing distance on the preferred side, shifted sideways, then on the other side.
fn near(label: &Wanted) -> impl Iterator<Item = Spot> {
    let Wanted { anchor, width, height, side, gap } = *label;
    let across = (-side.1, side.0);
    // Half the plate's extent along the side it hangs on.
    let half = 0.5 * (width * side.0.abs() + height * side.1.abs());
    let sideways = 0.5 * (width * across.0.abs() + height * across.1.abs());
    (0..14).flat_map(move |step| {
        (-8..=8).flat_map(move |shift| {
            [1.0, -1.0].into_iter().map(move |sign| {
                let out = half + gap + f64::from(step) * 0.5 * height;
                anchor.moved(side, sign * out).moved(across, f64::from(shift) * 0.25 * sideways)
            })
        })
    })
}

/// A grid over the whole drawing.
fn anywhere(label: &Wanted, around: &Surroundings) -> impl Iterator<Item = Spot> {
    let inside = around.inside;
    let (step_x, step_y) = ((label.width / 3.0).max(1.0), (label.height / 2.0).max(1.0));
    let columns = (inside.width() / step_x).clamp(0.0, 200.0) as u32;
    let rows = (inside.height() / step_y).clamp(0.0, 200.0) as u32;
    let first =
        Spot::new(inside.left + label.width / 2.0 + 1e-6, inside.top + label.height / 2.0 + 1e-6);
    (0..=rows).flat_map(move |row| {
        (0..=columns).map(move |column| {
            Spot::new(first.x + f64::from(column) * step_x, first.y + f64::from(row) * step_y)
        })
    })
}

fn leader(label: &Wanted, area: &Area) -> Option<(Spot, Spot)> {
    let start = area.nearest(label.anchor);
    let far = start.distance(label.anchor) > label.gap + 0.55 * label.height;
    far.then_some((start, label.anchor))
}

fn price(label: &Wanted, placed: &Placed, around: &Surroundings, taken: &[Placed]) -> f64 {
    let unit = label.height;
    let middle = placed.area.middle();
    let (dx, dy) = (middle.x - label.anchor.x, middle.y - label.anchor.y);
    let along = dx * label.side.0 + dy * label.side.1;
    let across = (dx * -label.side.1 + dy * label.side.0).abs();
    let mut price = along.abs() / unit + 0.45 * across / unit;
    if along < 0.0 {
        price += 6.0;
    }
    for (from, to) in &around.lines {
        if let Some((enter, leave)) = placed.area.clip(*from, *to) {
            price += 2.0 * (leave - enter) * from.distance(*to) / unit + 0.5;
        }
    }
    for other in taken {
        if let Some((from, to)) = other.leader
            && placed.area.clip(from, to).is_some()
        {
            price += 30.0;
        }
    }
    if let Some((from, to)) = placed.leader {
        price += 1.0;
        let crossed = |area: &Area| area.clip(from, to).is_some();
        price += 30.0 * taken.iter().filter(|other| crossed(&other.area)).count() as f64;
        price += 12.0 * around.keep_clear.iter().filter(|area| crossed(area)).count() as f64;
        let tangled = taken.iter().filter_map(|other| other.leader);
        price += 12.0 * tangled.filter(|other| cross((from, to), *other)).count() as f64;
    }
    price
}

fn cross((a, b): (Spot, Spot), (c, d): (Spot, Spot)) -> bool {
    let turn = |p: Spot, q: Spot, r: Spot| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wanted(x: f64, y: f64) -> Wanted {
        Wanted { anchor: Spot::new(x, y), width: 80.0, height: 20.0, side: (0.0, 1.0), gap: 5.0 }
    }

    fn open() -> Surroundings {
        let inside = Area::at(0.0, 0.0, 400.0, 200.0);
        Surroundings { inside, keep_clear: Vec::new(), lines: Vec::new() }
    }

    #[test]
    fn an_undisturbed_label_stands_right_beside_its_anchor() {
        let placed = place(&[wanted(200.0, 100.0)], &open())[0].unwrap();
        assert_eq!(placed.area, Area::at(160.0, 105.0, 80.0, 20.0));
        assert_eq!(placed.leader, None);
    }

    #[test]
    fn labels_with_one_anchor_fan_out_with_leaders() {
        let many = [wanted(200.0, 100.0); 6];
        let placed: Vec<_> = place(&many, &open()).into_iter().flatten().collect();
        assert_eq!(placed.len(), 6);
        for (i, a) in placed.iter().enumerate() {
            assert!(placed[i + 1..].iter().all(|b| !a.area.overlaps(&b.area)));
        }
        assert!(placed[5].leader.is_some());
    }

    #[test]
    fn an_anchor_in_the_corner_keeps_its_label_inside() {
        let placed = place(&[wanted(399.0, 199.0)], &open())[0].unwrap();
        assert!(open().inside.contains(&placed.area));
    }

    #[test]
    fn what_does_not_fit_is_left_out() {
        let mut full = open();
        full.keep_clear.push(Area::at(0.0, 0.0, 400.0, 195.0));
        assert_eq!(place(&[wanted(200.0, 100.0)], &full), [None]);
    }
}
