//! Bringing high dynamic range and wide colour down to what a screen shows: 8-bit sRGB.
//!
//! The steps of ITU-R BT.2408 and BT.2446 in their plainest form: numbers to light (PQ: SMPTE ST 2084, HLG: BT.2100
//! with its system gamma for a 1000 cd/m2 screen), BT.2020 to BT.709 primaries, everything up to 60 % of
//! reference white (203 cd/m2) left as it is, brighter light rolled off smoothly towards white, then the sRGB curve.
//! The roll-off scales all three colours alike, so hue is kept. Every curve is a table, so a pixel costs a few dozen
//! operations. Pure. Invariant: grey stays grey, and darker never becomes brighter than what was brighter.
//! Not handled: mastering metadata (MaxCLL and the like); the same curve serves every clip.

use super::colour::{Colour, DynamicRange};

/// Light of diffuse white, BT.2408 table 1.
const REFERENCE_WHITE_CD_M2: f32 = 203.0;
const HLG_PEAK_CD_M2: f32 = 1000.0;
const HLG_SYSTEM_GAMMA: f32 = 1.2;
const PQ_PEAK_CD_M2: f32 = 10_000.0;
/// Where the roll-off begins, as a share of reference white.
const KNEE: f32 = 0.6;
/// BT.2020 to BT.709 for linear light, BT.2087 table 2 inverted.
const BT709_FROM_BT2020: [[f32; 3]; 3] = [
    [1.660_491, -0.587_641, -0.072_85],
    [-0.124_550, 1.132_9, -0.008_349],
    [-0.018_151, -0.100_579, 1.118_73],
];
const BT2020_LUMINANCE: [f32; 3] = [0.2627, 0.6780, 0.0593];

/// Pixels that go through the tables together.
const BLOCK: usize = 64;
const LIGHT_STEPS: usize = 4096;
const SCREEN_STEPS: usize = 16_384;
const ROLL_OFF_STEPS: usize = 8192;

/// Tables for one kind of picture.
pub struct ToneMap {
    colour: Colour,
    /// Light of a 12-bit number; for HLG, light of the scene.
    light: Vec<f32>,
    /// HLG only: the factor from scene light to screen light, by luminance.
    system_gain: Vec<f32>,
    /// The factor that rolls a brightness off, by brightness up to `brightest`.
    roll_off: Vec<f32>,
    brightest: f32,
    /// The sRGB number of a light from 0 to 1.
    screen: Vec<u8>,
}

impl ToneMap {
    /// Tables for pictures that need them; `None` where numbers can go to the screen as they are.
    pub fn for_colour(colour: Colour) -> Option<ToneMap> {
        if colour.dynamic_range == DynamicRange::Sdr && !colour.wide_primaries {
            return None;
        }
        let steps = |count: usize| (0..count).map(move |step| step as f32 / (count - 1) as f32);
        let brightest = match colour.dynamic_range {
            DynamicRange::Sdr => 1.0,
            DynamicRange::Hlg => HLG_PEAK_CD_M2 / REFERENCE_WHITE_CD_M2,
            DynamicRange::Pq => PQ_PEAK_CD_M2 / REFERENCE_WHITE_CD_M2,
        };
        // Negative light of other primaries can lift a component past the peak of its own.
        let brightest = brightest * 1.7;
        let rolls = colour.dynamic_range != DynamicRange::Sdr;
        Some(ToneMap {
            colour,
            light: steps(LIGHT_STEPS).map(|number| light(number, colour.dynamic_range)).collect(),
            system_gain: match colour.dynamic_range {
                DynamicRange::Hlg => steps(SCREEN_STEPS).map(hlg_system_gain).collect(),
                _ => Vec::new(),
            },
            roll_off: (0..ROLL_OFF_STEPS)
                .map(|step| step as f32 / (ROLL_OFF_STEPS - 2) as f32 * brightest)
                .map(|brightness| if rolls { roll_off(brightness) } else { 1.0 })
                .collect(),
            brightest,
            screen: steps(SCREEN_STEPS).map(|light| (srgb(light) * 255.0).round() as u8).collect(),
        })
    }

    pub fn colour(&self) -> Colour {
        self.colour
    }

    /// Maps one row of 12-bit numbers (little endian) to 8-bit RGB.
    pub fn map_row(&self, rgb: [&[u8]; 3], out: &mut [u8]) {
        let pixels =
            rgb.map(<[u8]>::len).into_iter().min().map_or(0, |bytes| bytes / 2).min(out.len() / 3);
        for first in (0..pixels).step_by(BLOCK) {
            let count = BLOCK.min(pixels - first);
            let mut light = [[0.0_f32; BLOCK]; 3];
            for (light, numbers) in light.iter_mut().zip(rgb) {
                let numbers = &numbers[first * 2..(first + count) * 2];
                for (light, bytes) in light.iter_mut().zip(numbers.chunks_exact(2)) {
                    *light =
                        self.light[usize::from(u16::from_le_bytes([bytes[0], bytes[1]]) & 0xfff)];
                }
            }
            self.map_block(&mut light);
            let out = &mut out[first * 3..(first + count) * 3];
            for (at, to) in out.chunks_exact_mut(3).enumerate() {
                for (to, light) in to.iter_mut().zip(&light) {
                    *to = self.screen[place(light[at], SCREEN_STEPS)];
                }
            }
        }
    }

    /// From the light of the numbers to the light of the screen, for a block of pixels. The loops go over one thing
    /// at a time so that the compiler can do several pixels at once.
    fn map_block(&self, [red, green, blue]: &mut [[f32; BLOCK]; 3]) {
        if self.colour.dynamic_range == DynamicRange::Hlg {
            let [from_red, from_green, from_blue] = BT2020_LUMINANCE;
            for at in 0..BLOCK {
                let luminance = from_red * red[at] + from_green * green[at] + from_blue * blue[at];
                let gain = self.system_gain[place(luminance, SCREEN_STEPS)];
                red[at] *= gain;
                green[at] *= gain;
                blue[at] *= gain;
            }
        }
        if self.colour.wide_primaries {
            let [to_red, to_green, to_blue] = BT709_FROM_BT2020;
            for at in 0..BLOCK {
                let (r, g, b) = (red[at], green[at], blue[at]);
                red[at] = (to_red[0] * r + to_red[1] * g + to_red[2] * b).max(0.0);
                green[at] = (to_green[0] * r + to_green[1] * g + to_green[2] * b).max(0.0);
                blue[at] = (to_blue[0] * r + to_blue[1] * g + to_blue[2] * b).max(0.0);
            }
        }
        let scale = 1.0 / self.brightest;
        for at in 0..BLOCK {
            let brightness = red[at].max(green[at]).max(blue[at]);
            // Between two entries, so that brighter stays brighter.
            let exact = (brightness * scale).min(1.0) * (ROLL_OFF_STEPS - 2) as f32;
            let (below, share) = (exact as i32 as usize, exact.fract());
            let factor = self.roll_off[below] * (1.0 - share) + self.roll_off[below + 1] * share;
            red[at] *= factor;
            green[at] *= factor;
            blue[at] *= factor;
        }
    }
}

/// The table place of a value from 0 to 1; values outside take the ends.
#[inline(always)]
fn place(value: f32, steps: usize) -> usize {
    ((value * (steps - 1) as f32 + 0.5) as i32).clamp(0, steps as i32 - 1) as usize
}

/// Light of a number from 0 to 1, as a multiple of reference white (HLG: scene light from 0 to 1).
fn light(number: f32, dynamic_range: DynamicRange) -> f32 {
    match dynamic_range {
        DynamicRange::Pq => pq_cd_m2(number) / REFERENCE_WHITE_CD_M2,
        DynamicRange::Hlg => hlg_scene(number),
        DynamicRange::Sdr => linear_of_srgb(number),
    }
}

/// SMPTE ST 2084, equation 4.1.
fn pq_cd_m2(number: f32) -> f32 {
    const M1: f64 = 2610.0 / 16_384.0;
    const M2: f64 = 2523.0 / 4096.0 * 128.0;
    const C1: f64 = 3424.0 / 4096.0;
    const C2: f64 = 2413.0 / 4096.0 * 32.0;
    const C3: f64 = 2392.0 / 4096.0 * 32.0;
    let power = f64::from(number).powf(1.0 / M2);
    let light = ((power - C1).max(0.0) / (C2 - C3 * power)).powf(1.0 / M1);
    light as f32 * PQ_PEAK_CD_M2
}

/// BT.2100 table 5, inverse of the HLG curve.
fn hlg_scene(number: f32) -> f32 {
    const A: f32 = 0.178_832_77;
    const B: f32 = 0.284_668_92;
    const C: f32 = 0.559_910_7;
    if number <= 0.5 { number * number / 3.0 } else { (((number - C) / A).exp() + B) / 12.0 }
}

/// From scene light to screen light as a multiple of reference white, for a scene luminance.
fn hlg_system_gain(luminance: f32) -> f32 {
    // At 0 the factor of the law is 0 as well; half a table step stands for the first step.
    let luminance = luminance.max(0.5 / SCREEN_STEPS as f32);
    HLG_PEAK_CD_M2 / REFERENCE_WHITE_CD_M2 * luminance.powf(HLG_SYSTEM_GAMMA - 1.0)
}

/// The factor for a brightness: 1 up to the knee, then an exponential approach to white with the same slope.
fn roll_off(brightness: f32) -> f32 {
    if brightness <= KNEE {
        return 1.0;
    }
    let room = 1.0 - KNEE;
    (KNEE + room * (1.0 - (-(brightness - KNEE) / room).exp())) / brightness
}

/// IEC 61966-2-1.
fn srgb(light: f32) -> f32 {
    if light <= 0.003_130_8 { light * 12.92 } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 }
}

fn linear_of_srgb(number: f32) -> f32 {
    if number <= 0.040_45 { number / 12.92 } else { ((number + 0.055) / 1.055).powf(2.4) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::footage::colour::Matrix;

    fn tone_map(dynamic_range: DynamicRange) -> ToneMap {
        let colour = Colour {
            matrix: Matrix::Bt2020,
            matrix_guessed: false,
            full_range: false,
            dynamic_range,
            wide_primaries: true,
        };
        ToneMap::for_colour(colour).expect("wide colour needs a map")
    }

    fn pixel(map: &ToneMap, numbers: [u16; 3]) -> [u8; 3] {
        let [red, green, blue] = numbers.map(u16::to_le_bytes);
        let mut out = [0; 3];
        map.map_row([&red, &green, &blue], &mut out);
        out
    }

    #[test]
    fn reference_white_and_black_land_where_a_screen_has_them() {
        // 203 cd/m2 is 58.1 % PQ and 75 % HLG (BT.2408 table 1).
        let pq = pixel(&tone_map(DynamicRange::Pq), [(0.5807 * 4095.0) as u16; 3]);
        let hlg = pixel(&tone_map(DynamicRange::Hlg), [(0.75 * 4095.0) as u16; 3]);
        assert!(pq[0].abs_diff(hlg[0]) <= 2, "{pq:?} and {hlg:?}");
        assert!((232..=242).contains(&pq[0]), "{pq:?}");
        assert_eq!(pixel(&tone_map(DynamicRange::Pq), [0; 3]), [0; 3]);
        assert_eq!(pixel(&tone_map(DynamicRange::Hlg), [4095; 3]), [255; 3]);
    }

    #[test]
    fn grey_stays_grey_and_brighter_stays_brighter() {
        for dynamic_range in [DynamicRange::Pq, DynamicRange::Hlg, DynamicRange::Sdr] {
            let map = tone_map(dynamic_range);
            let mut before = 0;
            for number in 0..=4095 {
                let [r, g, b] = pixel(&map, [number; 3]);
                assert!(
                    r.abs_diff(g) <= 1 && g.abs_diff(b) <= 1,
                    "{dynamic_range:?} {number}: {r} {g} {b}"
                );
                assert!(g >= before, "{dynamic_range:?} {number}: {g} after {before}");
                before = g;
            }
        }
    }

    #[test]
    fn ordinary_wide_colour_keeps_its_greys() {
        let map = tone_map(DynamicRange::Sdr);
        for number in [0_u16, 40, 128, 200, 255] {
            let mapped = pixel(&map, [(f32::from(number) * 4095.0 / 255.0).round() as u16; 3]);
            assert!(u16::from(mapped[1]).abs_diff(number) <= 1, "{number}: {mapped:?}");
        }
        let green = pixel(&map, [0, 4095, 0]);
        assert_eq!((green[0], green[2]), (0, 0));
    }
}
