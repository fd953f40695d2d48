//! One gallop stride of 1878 (Muybridge, The Horse in Motion; `../shared/footage/gallop-1878`):
//! its length and speed from the pictures, beside the mile in 1 min 40 s (16.09 m/s) for which the
//! mare is recorded.
//!
//! From memory: the wall's lines and the cameras stand 27 in apart, and the pictures were taken
//! "about" 1/25 s apart. Panel 10 is missing. Every panel is a camera of its own, cropped by a
//! printer, so the survey has nothing to hold on to; what is used is a plain ratio, the place
//! between two lines of the wall, and the library's draws.
//!
//! Read by eye from the panels enlarged nine times, in pixels from the picture's left edge.
//!
//! **Parallax, a doubt.** The wall stands behind the horse, nobody says how far, so that a thing
//! `X` is seen before the wall at `C + (X − C) r`, where `C` is the camera and `r` > 1 the wall's
//! distance from the camera over the horse's. Cameras move along with the horse: what is left of
//! the error is `r` times the little by which the two differ. And a hoof that stands on the ground
//! in several panels goes back on the wall by `r − 1` a panel, which is read here too.

use groundline::quantity::{Estimate, GaussianDraws, Metres, MetresPerSecond, Percentile95, Unit};
use groundline::quantity::{seeded, written};
use nalgebra::{DMatrix, DVector};

use crate::support::shared;

/// From memory; a caption's whole inches, so ±0.5 in, evenly: sd 0.29 in.
const SPACING_M: f64 = 27.0 * 0.0254;
const SPACING_SD_M: f64 = 0.29 * 0.0254;
/// "Tenth" panel after the first, and the time of a panel's gap as the caption has it.
const PANELS: f64 = 10.0;
const GAP_S: f64 = 1.0 / 25.0;
/// How well a toe on the dark ground, a point of the outline and a line are read, pixels.
const TOE_SD_PX: f64 = 1.5;
const OUTLINE_SD_PX: f64 = 1.0;
const LINE_SD_PX: f64 = 0.5;
const MILE_M_PER_S: f64 = 1609.344 / 100.0;

/// A thing seen between (or near) two lines of the wall; line 5 is the one to the right of the
/// number 5.
struct Reading {
    panel: u32,
    x: f64,
    sd: f64,
    lines: [(f64, f64); 2],
}

const fn reading(panel: u32, x: f64, sd: f64, lines: [(f64, f64); 2]) -> Reading {
    Reading { panel, x, sd, lines }
}

/// The toe of the leading fore in the first and the eleventh panel: the same hoof's next contact
/// (in both, the other fore is folded after its lift-off and both hinds are in the air).
const STRIDE: [Reading; 2] = [
    reading(1, 115.0, TOE_SD_PX, [(5.0, 106.5), (6.0, 132.5)]),
    reading(11, 94.5, TOE_SD_PX, [(15.0, 94.0), (16.0, 120.5)]),
];

/// Nose, middle of the rider's head and the buttocks' hindmost point, in the same two panels.
const BODY: [[Reading; 2]; 3] = [
    [
        reading(1, 160.0, OUTLINE_SD_PX, [(7.0, 159.0), (8.0, 184.0)]),
        reading(11, 157.8, OUTLINE_SD_PX, [(17.0, 146.7), (18.0, 172.5)]),
    ],
    [
        reading(1, 115.5, OUTLINE_SD_PX, [(5.0, 106.5), (6.0, 132.5)]),
        reading(11, 113.0, OUTLINE_SD_PX, [(15.0, 94.0), (16.0, 120.5)]),
    ],
    [
        reading(1, 62.5, OUTLINE_SD_PX, [(3.0, 53.5), (4.0, 80.0)]),
        reading(11, 60.3, OUTLINE_SD_PX, [(13.0, 40.7), (14.0, 67.5)]),
    ],
];

/// Toes that stand: trailing hind, leading hind, trailing fore.
const TRAILING_HIND: [Reading; 3] = [
    reading(4, 103.5, TOE_SD_PX, [(7.0, 68.5), (8.0, 94.5)]),
    reading(5, 84.5, TOE_SD_PX, [(8.0, 74.8), (9.0, 100.5)]),
    reading(6, 48.5, TOE_SD_PX, [(8.0, 43.5), (9.0, 69.5)]),
];
const LEADING_HIND: [Reading; 2] = [
    reading(6, 92.0, TOE_SD_PX, [(9.0, 69.5), (10.0, 96.7)]),
    reading(7, 62.5, TOE_SD_PX, [(9.0, 45.0), (10.0, 71.5)]),
];
const TRAILING_FORE: [Reading; 3] = [
    reading(7, 155.0, TOE_SD_PX, [(13.0, 151.0), (14.0, 176.5)]),
    reading(8, 137.0, TOE_SD_PX, [(13.0, 133.5), (14.0, 159.3)]),
    reading(9, 103.5, TOE_SD_PX, [(13.0, 102.5), (14.0, 128.5)]),
];

fn all() -> impl Iterator<Item = &'static Reading> {
    let standing = [&TRAILING_HIND[..], &LEADING_HIND, &TRAILING_FORE];
    STRIDE.iter().chain(BODY.iter().flatten()).chain(standing.into_iter().flatten())
}

/// What was read, or one draw of what may have been there to read: pixels in the order of
/// [`all`], three a reading, then the spacing.
struct Drawn(Vec<f64>);

/// What follows from one.
struct Found {
    stride_m: f64,
    body_m: f64,
    /// Wall's distance over the horse's.
    ratio: f64,
}

impl Drawn {
    /// Place on the wall of reading number `index`, in spacings.
    fn wall(&self, index: usize, reading: &Reading) -> f64 {
        let [x, left, right] = [0, 1, 2].map(|i| self.0[3 * index + i]);
        let [(from, _), (to, _)] = reading.lines;
        from + (to - from) * (x - left) / (right - left)
    }

    fn found(&self) -> Found {
        let walls: Vec<(f64, f64)> = all()
            .enumerate()
            .map(|(index, reading)| (f64::from(reading.panel), self.wall(index, reading)))
            .collect();
        let spacing = self.0[self.0.len() - 1];
        // One slope for all standing hooves, each with a place of its own.
        let (mut above, mut below) = (0.0, 0.0);
        for hoof in [&walls[8..11], &walls[11..13], &walls[13..16]] {
            let mean =
                |of: fn(&(f64, f64)) -> f64| hoof.iter().map(of).sum::<f64>() / hoof.len() as f64;
            let (panel, place) = (mean(|seen| seen.0), mean(|seen| seen.1));
            above += hoof.iter().map(|s| (s.0 - panel) * (s.1 - place)).sum::<f64>();
            below += hoof.iter().map(|s| (s.0 - panel).powi(2)).sum::<f64>();
        }
        let ratio = 1.0 - above / below;
        let moved = |from: usize| walls[from + 1].1 - walls[from].1;
        let body = [2, 4, 6].map(moved).into_iter().sum::<f64>() / 3.0;
        Found {
            stride_m: spacing * on_track(moved(0), ratio),
            body_m: spacing * on_track(body, ratio),
            ratio,
        }
    }
}

/// What moved by `wall` spacings on the wall in ten panels moved by this much on the track.
fn on_track(wall: f64, ratio: f64) -> f64 {
    PANELS + (wall - PANELS) / ratio
}

#[test]
fn the_stride_of_1878() {
    let mut means: Vec<f64> = all().flat_map(|r| [r.x, r.lines[0].1, r.lines[1].1]).collect();
    let mut sds: Vec<f64> = all().flat_map(|r| [r.sd, LINE_SD_PX, LINE_SD_PX]).collect();
    means.push(SPACING_M);
    sds.push(SPACING_SD_M);
    let variances = DVector::from_iterator(sds.len(), sds.iter().map(|sd| sd * sd));
    let read = Drawn(means.clone()).found();
    let draws =
        GaussianDraws::new(DVector::from_vec(means), &DMatrix::from_diagonal(&variances)).unwrap();
    let draws: Vec<Found> = draws
        .draw(20_000, &mut seeded(1878))
        .column_iter()
        .map(|column| Drawn(column.iter().copied().collect()).found())
        .collect();
    let of = |value: fn(&Found) -> f64| draws.iter().map(value).collect::<Vec<f64>>();

    let stride: Estimate<Metres> =
        Estimate::from_draws(read.stride_m, of(|found| found.stride_m)).unwrap();
    let speed = |found: &Found| found.body_m / (PANELS * GAP_S);
    let speed: Estimate<MetresPerSecond> =
        Estimate::from_draws(speed(&read), draws.iter().map(speed).collect()).unwrap();
    let ratio = Percentile95::of(&mut of(|found| found.ratio)).unwrap();
    let metres = groundline::quantity::LengthUnits::Metres;
    println!("stride {} (near 6.9 m as ten panels of 27 in)", written(&stride, metres));
    println!(
        "speed {:.1} m/s, 95 % {:.1} to {:.1}, if the gaps are 1/25 s; mile in 1:40 {MILE_M_PER_S:.2} \
         m/s, {:.0} % less; the mile's speed wants gaps of 1/{:.1} s",
        speed.value.get(),
        speed.low95.get(),
        speed.high95.get(),
        100.0 * (1.0 - MILE_M_PER_S / speed.value.get()),
        PANELS * MILE_M_PER_S / read.body_m,
    );
    println!(
        "doubt: parallax. By the standing hooves the wall is {:.2} times as far as the horse (95 % \
         {:.2} to {:.2}); allowed for",
        read.ratio, ratio.low, ratio.high
    );
    // What would be wrong had it not been allowed for, cameras 10 m from the horse (assumed).
    for behind_m in [0.5, 1.0, 2.0] {
        let share = 1.0 - 1.0 / (1.0 + behind_m / 10.0);
        let wall = |moved_m: f64| PANELS + (moved_m / SPACING_M - PANELS) * read.ratio;
        let bias = |moved_m: f64| SPACING_M * (wall(moved_m) - PANELS) * share;
        println!(
            "doubt: a wall {behind_m} m behind it makes the stride {:+.1} cm, the speed {:+.2} m/s",
            100.0 * bias(read.stride_m),
            bias(read.body_m) / (PANELS * GAP_S),
        );
    }

    // A stride counted in panels is good to half a panel.
    let off = (stride.value.get() - 6.9).abs();
    assert!(off <= 0.5 * SPACING_M + 1.96 * stride.sd.get(), "{stride:?}");
    // Beside 25,259 race starts (Morrice-West et al. 2020, read): 7.08 ± 0.39 m (SD) and
    // 16.63 ± 1.04 m/s. One horse on one day: within two SDs.
    assert!((stride.value.get() - 7.08).abs() < 2.0 * 0.39, "{stride:?}");
    assert!((speed.value.get() - 16.63).abs() < 2.0 * 1.04, "{speed:?}");
    // A wall is not nearer than the horse that hides it.
    assert!(ratio.high > 1.0 && read.ratio < 1.3, "{ratio:?}");
}

/// Each line that was read is the middle of a dark stripe of its panel, over the riders' heads'
/// height, unless something darker stands before it.
#[test]
fn the_lines_of_1878_are_where_they_were_read() {
    if shared("footage/gallop-1878").is_none() {
        return;
    }
    let (mut seen, mut worst): (u32, f64) = (0, 0.0);
    for reading in all() {
        let name = format!("footage/gallop-1878/panel_{:02}.png", reading.panel);
        let picture = image::open(shared(&name).unwrap()).unwrap().to_luma8();
        // The median over the rows between the numbers and the horse, column by column.
        let grey = |x: u32| {
            let mut column: Vec<u8> = (17..34).map(|y| picture.get_pixel(x, y)[0]).collect();
            column.sort_unstable();
            f64::from(column[column.len() / 2])
        };
        for (_, read) in reading.lines {
            let columns: Vec<(u32, f64)> =
                (read as u32 - 2..=read as u32 + 2).map(|x| (x, grey(x))).collect();
            if columns.iter().any(|column| column.1 < 70.0) {
                continue; // Rider or horse.
            }
            let brightest = columns.iter().map(|column| column.1).fold(0.0, f64::max);
            let darkest = columns.iter().min_by(|a, b| a.1.total_cmp(&b.1)).unwrap();
            let near = columns.iter().filter(|column| column.0.abs_diff(darkest.0) <= 1);
            let (mut weight, mut sum) = (0.0, 0.0);
            for (x, grey) in near {
                let dark = (brightest - grey).powi(2);
                weight += dark;
                sum += dark * (f64::from(*x) + 0.5);
            }
            seen += 1;
            worst = worst.max((sum / weight - read).abs());
        }
    }
    println!("{seen} lines, the worst {worst:.2} px from its stripe");
    assert!(seen >= 20 && worst < 1.0, "{seen} lines, {worst} px");
}
