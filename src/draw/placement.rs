//! Where labels go: never on a hoof, never on one another, never off the drawing; on the horse or
//! the fence only when nothing else is free.
//!
//! Each label tries places around the line it speaks of, nearest first on its preferred side, and
//! takes the cheapest free one. When all near places are taken the whole drawing is searched; a
//! label that fits nowhere is left out rather than laid on another.

use super::area::{Area, Spot, clip_shape};

/// A label that wants a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// The line it speaks of; a leader may end anywhere on it. Both ends alike for a point.
    pub line: (Spot, Spot),
    /// Width of its plate.
    pub width: f64,
    /// Height of its plate.
    pub height: f64,
    /// Preferred side of the line, a unit vector.
    pub side: (f64, f64),
    /// Space between line and plate.
    pub gap: f64,
}

impl Wanted {
    fn anchor(&self) -> Spot {
        self.line.0.towards(self.line.1, 0.5)
    }
}

/// A label in its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// The plate.
    pub area: Area,
    /// The leader from the plate's edge to the line, when the plate is not beside it.
    pub leader: Option<(Spot, Spot)>,
}

/// What labels must keep clear of.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Surroundings {
    /// They stay inside this.
    pub inside: Area,
    /// They cover none of these.
    pub keep_clear: Vec<Area>,
    /// They cover none of these convex shapes while any other place is free.
    pub avoid: Vec<Vec<Spot>>,
    /// They cover these lines only when there is no better place.
    pub lines: Vec<(Spot, Spot)>,
}

/// What a label over something to avoid costs, in heights of a plate, and one left out.
const OVER_AVOIDED: f64 = 300.0;
const LEFT_OUT: f64 = 3000.0;
/// The price of the other side of the line.
const WRONG_SIDE: f64 = 9.0;

/// Finds a place for each label; `None` for one that fits nowhere.
///
/// Who chooses first decides who is pushed away, so a few orders are tried and the one that costs
/// least in all is taken.
pub fn place(wanted: &[Wanted], around: &Surroundings) -> Vec<Option<Placed>> {
    let given: Vec<usize> = (0..wanted.len()).collect();
    let mut orders = vec![given.clone()];
    if wanted.len() > 1 {
        for first in 1..=2 {
            let mut order = given.clone();
            order.rotate_right(first);
            orders.push(order);
        }
        orders.push(given.iter().rev().copied().collect());
    }
    let mut best: Option<(f64, Vec<Option<Placed>>)> = None;
    for order in orders {
        let (price, placed) = in_order(wanted, around, &order);
        if best.as_ref().is_none_or(|(least, _)| price < *least) {
            best = Some((price, placed));
        }
    }
    best.map(|(_, placed)| placed).unwrap_or_default()
}

fn in_order(
    wanted: &[Wanted],
    around: &Surroundings,
    order: &[usize],
) -> (f64, Vec<Option<Placed>>) {
    let mut taken: Vec<Placed> = Vec::new();
    let mut all = vec![None; wanted.len()];
    let mut sum = 0.0;
    for &i in order {
        let label = &wanted[i];
        let free = [true, false].into_iter().find_map(|strict| {
            let near = best(label, near(label), around, &taken, strict);
            near.or_else(|| best(label, anywhere(label, around), around, &taken, strict))
        });
        sum += free.map_or(LEFT_OUT, |(price, _)| price);
        all[i] = free.map(|(_, placed)| placed);
        taken.extend(all[i]);
    }
    (sum, all)
}

/// The cheapest of the free places; `strict` ones cover nothing that is to be avoided.
fn best(
    label: &Wanted,
    middles: impl Iterator<Item = Spot>,
    around: &Surroundings,
    taken: &[Placed],
    strict: bool,
) -> Option<(f64, Placed)> {
    let mut cheapest: Option<(f64, Placed)> = None;
    for middle in middles {
        let area = Area::around(middle, label.width, label.height);
        let space = label.height * 0.12;
        let roomy = area.grown(space);
        let dear = |price: f64| cheapest.is_some_and(|(least, _)| price >= least);
        let at_least = distance_price(label, &area);
        if dear(at_least)
            || !around.inside.contains(&area)
            || around.keep_clear.iter().any(|other| other.overlaps(&area))
            || taken.iter().any(|other| other.area.overlaps(&roomy))
        {
            continue;
        }
        let covered = around.avoid.iter().any(|shape| covers(&area, shape));
        if covered && strict {
            continue;
        }
        let price = at_least
            + if covered { OVER_AVOIDED } else { 0.0 }
            + covering_price(label, &area, around, taken);
        if dear(price) {
            continue;
        }
        let (leader, extra) = leader(label, &area, around, taken);
        if !dear(price + extra) {
            cheapest = Some((price + extra, Placed { area, leader }));
        }
    }
    cheapest
}

/// Whether a plate hides some of a convex shape.
pub(super) fn covers(area: &Area, shape: &[Spot]) -> bool {
    !clip_shape(shape, area).is_empty()
}

/// Places at growing distance on the preferred side, shifted sideways, then on the other side.
fn near(label: &Wanted) -> impl Iterator<Item = Spot> {
    let Wanted { width, height, side, gap, .. } = *label;
    let anchor = label.anchor();
    let across = (-side.1, side.0);
    // Half the plate's extent along the side it hangs on.
    let half = 0.5 * (width * side.0.abs() + height * side.1.abs());
    let sideways = 0.5 * (width * across.0.abs() + height * across.1.abs());
    (0..14).flat_map(move |step| {
        (-10..=10).flat_map(move |shift| {
            [1.0, -1.0].into_iter().map(move |sign| {
                let out = half + gap + f64::from(step) * 0.5 * height;
                anchor.moved(side, sign * out).moved(across, f64::from(shift) * 0.2 * sideways)
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

/// The leader that disturbs least, with its price; none where the plate is beside its line.
fn leader(
    label: &Wanted,
    area: &Area,
    around: &Surroundings,
    taken: &[Placed],
) -> (Option<(Spot, Spot)>, f64) {
    let ends = [0.5, 0.3, 0.7, 0.12, 0.88].map(|share| {
        let to = label.line.0.towards(label.line.1, share);
        (area.nearest(to), to)
    });
    let near = label.gap + 0.55 * label.height;
    if ends[..3].iter().any(|(from, to)| from.distance(*to) <= near) {
        return (None, 0.0);
    }
    ends.into_iter()
        .map(|ends| (Some(ends), leader_price(label, ends, around, taken)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .unwrap_or((None, 0.0))
}

fn leader_price(
    label: &Wanted,
    (from, to): (Spot, Spot),
    around: &Surroundings,
    taken: &[Placed],
) -> f64 {
    let crossed = |area: &Area| area.clip(from, to).is_some();
    let tangled = taken.iter().filter_map(|other| other.leader);
    let hidden = around.avoid.iter().filter(|shape| cuts((from, to), shape));
    1.0 + 0.2 * from.distance(to) / label.height
        + 30.0 * taken.iter().filter(|other| crossed(&other.area)).count() as f64
        + 12.0 * around.keep_clear.iter().filter(|area| crossed(area)).count() as f64
        + 12.0 * hidden.count() as f64
        + 12.0 * tangled.filter(|other| cross((from, to), *other)).count() as f64
}

/// Distance from the anchor, dearer on the side that is not wanted.
fn distance_price(label: &Wanted, area: &Area) -> f64 {
    let unit = label.height;
    let (middle, anchor) = (area.middle(), label.anchor());
    let (dx, dy) = (middle.x - anchor.x, middle.y - anchor.y);
    let along = dx * label.side.0 + dy * label.side.1;
    let across = (dx * -label.side.1 + dy * label.side.0).abs();
    let wrong = if along < 0.0 { WRONG_SIDE } else { 0.0 };
    along.abs() / unit + 0.35 * across / unit + wrong
}

/// What a plate hides of lines and of the leaders already drawn.
fn covering_price(label: &Wanted, area: &Area, around: &Surroundings, taken: &[Placed]) -> f64 {
    let mut price = 0.0;
    for (from, to) in &around.lines {
        if let Some((enter, leave)) = area.clip(*from, *to) {
            price += 2.0 * (leave - enter) * from.distance(*to) / label.height + 0.5;
        }
    }
    let leaders = taken.iter().filter_map(|other| other.leader);
    price + 30.0 * leaders.filter(|(from, to)| area.clip(*from, *to).is_some()).count() as f64
}

/// Whether a segment runs over a convex shape.
fn cuts((from, to): (Spot, Spot), shape: &[Spot]) -> bool {
    let edges = (0..shape.len()).map(|i| (shape[i], shape[(i + 1) % shape.len()]));
    edges.into_iter().any(|edge| cross((from, to), edge))
}

fn cross((a, b): (Spot, Spot), (c, d): (Spot, Spot)) -> bool {
    let turn = |p: Spot, q: Spot, r: Spot| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wanted(x: f64, y: f64) -> Wanted {
        let at = Spot::new(x, y);
        Wanted { line: (at, at), width: 80.0, height: 20.0, side: (0.0, 1.0), gap: 5.0 }
    }

    fn open() -> Surroundings {
        let inside = Area::at(0.0, 0.0, 400.0, 200.0);
        Surroundings { inside, ..Surroundings::default() }
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
        let furthest = |p: &&Placed| p.area.nearest(many[0].anchor()).distance(many[0].anchor());
        let pushed = placed.iter().max_by(|a, b| furthest(a).total_cmp(&furthest(b))).unwrap();
        assert!(pushed.leader.is_some());
    }

    #[test]
    fn an_anchor_in_the_corner_keeps_its_label_inside() {
        let placed = place(&[wanted(399.0, 199.0)], &open())[0].unwrap();
        assert!(open().inside.contains(&placed.area));
    }

    #[test]
    fn what_is_to_be_avoided_is_covered_only_when_nothing_else_is_free() {
        let below = [(0.0, 101.0), (400.0, 101.0), (400.0, 200.0), (0.0, 200.0)];
        let below = below.map(|(x, y)| Spot::new(x, y)).to_vec();
        let mut around = Surroundings { avoid: vec![below.clone()], ..open() };
        let placed = place(&[wanted(200.0, 100.0)], &around)[0].unwrap();
        assert!(!covers(&placed.area, &below), "{placed:?}");
        around.keep_clear.push(Area::at(0.0, 0.0, 400.0, 101.0));
        let placed = place(&[wanted(200.0, 100.0)], &around)[0].unwrap();
        assert!(covers(&placed.area, &below), "{placed:?}");
    }

    #[test]
    fn two_labels_of_short_neighbours_both_stay_on_the_wanted_side() {
        let line = |x: f64| (Spot::new(x, 100.0), Spot::new(x + 40.0, 100.0));
        let two = [line(180.0), line(225.0)].map(|line| Wanted { line, ..wanted(0.0, 0.0) });
        let placed: Vec<Placed> = place(&two, &open()).into_iter().flatten().collect();
        assert_eq!(placed.len(), 2);
        assert!(placed.iter().all(|placed| placed.area.top > 100.0), "{placed:?}");
    }

    #[test]
    fn what_does_not_fit_is_left_out() {
        let mut full = open();
        full.keep_clear.push(Area::at(0.0, 0.0, 400.0, 195.0));
        assert_eq!(place(&[wanted(200.0, 100.0)], &full), [None]);
    }
}
