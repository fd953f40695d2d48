//! Colours, orientation and pixel aspect, on clips whose pictures are known.

use std::path::Path;

use groundline::footage::Clip;
use groundline::footage::write::{ClipWriter, Colours, WriteCodec, WriteOptions};
use groundline::quantity::FrameNumber;
use image::{GrayImage, ImageFormat, Rgb, RgbImage, imageops};

use crate::support::{awkward, folder, luma, mean_difference, open, reader, rgb, scene};

const PATCH: u32 = 160;
const PATCHES: [[u8; 3]; 8] = [
    [16, 16, 16],
    [235, 235, 235],
    [128, 128, 128],
    [200, 30, 30],
    [30, 160, 40],
    [40, 60, 190],
    [220, 190, 150],
    [90, 70, 50],
];

fn patches() -> RgbImage {
    RgbImage::from_fn(PATCH * 8, 720, |x, _| Rgb(PATCHES[(x / PATCH) as usize]))
}

fn write(path: &Path, picture: &RgbImage, options: &WriteOptions) {
    let mut writer = ClipWriter::at_rate(path, picture.dimensions(), (25, 1), options)
        .unwrap_or_else(|error| panic!("{error}"));
    for _ in 0..3 {
        writer.write(picture).unwrap_or_else(|error| panic!("{error}"));
    }
    writer.finish().unwrap_or_else(|error| panic!("{error}"));
}

/// The largest difference of any patch's middle, in numbers of 255.
fn worst_patch(found: &RgbImage) -> f64 {
    let mut worst = 0.0_f64;
    for (place, expected) in PATCHES.iter().enumerate() {
        let middle =
            imageops::crop_imm(found, place as u32 * PATCH + 40, 200, PATCH - 80, 300).to_image();
        for (channel, expected) in expected.iter().enumerate() {
            let sum: f64 = middle.pixels().map(|pixel| f64::from(pixel[channel])).sum();
            let mean = sum / f64::from(middle.width() * middle.height());
            worst = worst.max((mean - f64::from(*expected)).abs());
        }
    }
    worst
}

#[test]
fn known_colours_come_back_in_every_matrix_and_range() {
    let folder = folder();
    for (codec, colours) in [
        (WriteCodec::H264, Colours::Bt709Limited),
        (WriteCodec::H264, Colours::Bt709Full),
        (WriteCodec::H264, Colours::Bt601Limited),
        (WriteCodec::H264, Colours::Untagged),
        (WriteCodec::Hevc, Colours::Bt709Limited),
        (WriteCodec::Hevc10, Colours::Bt709Limited),
        (WriteCodec::Hevc10, Colours::Bt709Full),
    ] {
        let path = folder.path().join(format!("{codec:?}-{colours:?}.mp4"));
        let options = WriteOptions { codec, colours, crf: 8, ..WriteOptions::default() };
        write(&path, &patches(), &options);
        let clip = open(&path);
        let facts = clip.facts();
        assert_eq!(facts.colour.full_range, colours == Colours::Bt709Full);
        assert_eq!(facts.colour.matrix_guessed, colours == Colours::Untagged);
        assert_eq!(facts.bit_depth, if codec == WriteCodec::Hevc10 { 10 } else { 8 });
        let worst = worst_patch(&rgb(&mut reader(&clip), 1));
        println!("{codec:?} {colours:?}: worst patch {worst:.2}");
        assert!(worst <= 2.5, "{codec:?} {colours:?}: {worst:.2}");
        // The file for the screen, read by another decoder: rounding twice more.
        let worst = worst_patch(&jpeg(&clip, 1));
        println!("{codec:?} {colours:?}: worst patch of the JPEG {worst:.2}");
        assert!(worst <= 4.0, "JPEG {codec:?} {colours:?}: {worst:.2}");
    }
}

/// A frame's JPEG as a general decoder reads it.
fn jpeg(clip: &Clip, frame: u32) -> RgbImage {
    let bytes = reader(clip).jpeg(FrameNumber(frame)).unwrap_or_else(|error| panic!("{error}"));
    image::load_from_memory_with_format(&bytes, ImageFormat::Jpeg)
        .unwrap_or_else(|error| panic!("{error}"))
        .to_rgb8()
}

#[test]
fn luma_is_as_coded_in_8_and_in_10_bits() {
    let folder = folder();
    // Grey 128 of 255 is 16 + 219 * 128 / 255 = 125.9 in limited range, and 128 in full range.
    for (codec, colours, expected) in [
        (WriteCodec::H264, Colours::Bt709Limited, 126.0),
        (WriteCodec::H264, Colours::Bt709Full, 128.0),
        (WriteCodec::Hevc10, Colours::Bt709Limited, 126.0),
    ] {
        let path = folder.path().join(format!("{codec:?}-{colours:?}.mp4"));
        let options = WriteOptions { codec, colours, crf: 8, ..WriteOptions::default() };
        write(&path, &RgbImage::from_pixel(64, 48, Rgb([128; 3])), &options);
        let found = luma(&mut reader(&open(&path)), 1);
        let mean =
            found.as_raw().iter().map(|value| f64::from(*value)).sum::<f64>() / f64::from(64 * 48);
        assert!((mean - expected).abs() <= 1.0, "{codec:?} {colours:?}: {mean}");
    }
}

/// The display matrix of a track header (version 0), so that any orientation can be made from one clip.
fn with_matrix(clip: &[u8], [a, b, c, d]: [i32; 4]) -> Vec<u8> {
    let header = clip.windows(4).position(|bytes| bytes == b"tkhd").expect("a track");
    let at = header + 4 + 40;
    let mut turned = clip.to_vec();
    for (place, value) in
        [a << 16, b << 16, 0, c << 16, d << 16, 0, 0, 0, 1 << 30].iter().enumerate()
    {
        turned[at + place * 4..at + place * 4 + 4].copy_from_slice(&value.to_be_bytes());
    }
    turned
}

#[test]
fn all_eight_orientations_stand_upright() {
    let folder = folder();
    let path = folder.path().join("upright.mp4");
    let picture = scene((96, 64), 3);
    write(&path, &picture, &WriteOptions { crf: 4, ..WriteOptions::default() });
    let bytes = std::fs::read(&path).expect("the clip");
    let base = luma(&mut reader(&open(&path)), 1);
    let base_rgb = rgb(&mut reader(&open(&path)), 1);
    type Turn = fn(&GrayImage) -> GrayImage;
    let ways: [([i32; 4], Turn); 8] = [
        ([1, 0, 0, 1], |picture| picture.clone()),
        ([0, 1, -1, 0], |picture| imageops::rotate90(picture)),
        ([-1, 0, 0, -1], |picture| imageops::rotate180(picture)),
        ([0, -1, 1, 0], |picture| imageops::rotate270(picture)),
        ([-1, 0, 0, 1], |picture| imageops::flip_horizontal(picture)),
        ([1, 0, 0, -1], |picture| imageops::flip_vertical(picture)),
        // Transposed: the stored x axis points down, the stored y axis right.
        ([0, 1, 1, 0], |picture| imageops::flip_horizontal(&imageops::rotate90(picture))),
        ([0, -1, -1, 0], |picture| imageops::flip_horizontal(&imageops::rotate270(picture))),
    ];
    for (matrix, turn) in ways {
        let path = folder.path().join("turned.mp4");
        std::fs::write(&path, with_matrix(&bytes, matrix)).expect("a turned clip");
        let clip = open(&path);
        let found = luma(&mut reader(&clip), 1);
        assert!(found == turn(&base), "{matrix:?}: {:?}", clip.facts().orientation);
        let upright = (clip.facts().upright_width_px, clip.facts().upright_height_px);
        assert_eq!(found.dimensions(), upright);
        let shown = jpeg(&clip, 1);
        let difference = mean_difference(shown.as_raw(), rgb(&mut reader(&clip), 1).as_raw());
        assert!(shown.dimensions() == upright && difference < 4.0, "{matrix:?}: {difference}");
        if matrix == [0, 1, -1, 0] {
            assert!(rgb(&mut reader(&clip), 1) == imageops::rotate90(&base_rgb));
        }
    }
}

#[test]
fn wide_pixels_are_made_square_without_losing_rows() {
    let Some(path) = awkward("sar_2x1.mp4") else { return };
    let clip = open(&path);
    let wide = luma(&mut reader(&clip), 20);
    assert_eq!(wide.dimensions(), (1280, 360));
    // Every other column of an enlarged picture is close to its neighbour.
    let halves =
        |first: u32| GrayImage::from_fn(640, 360, |x, y| *wide.get_pixel(2 * x + first, y));
    let difference = mean_difference(halves(0).as_raw(), halves(1).as_raw());
    assert!(difference < 6.0, "{difference}");
}

#[test]
fn hdr_pictures_use_the_range_of_a_screen() {
    for (name, frame) in [("elst_hevc10_hlg_rot90_phone.mp4", 40), ("av1_60fps_mdcv.mp4", 30)] {
        let Some(path) = awkward(name) else { return };
        let picture = rgb(&mut reader(&open(&path)), frame);
        let values = picture.as_raw();
        let share = |test: fn(u8) -> bool| {
            values.iter().filter(|value| test(**value)).count() as f64 / values.len() as f64
        };
        let mean = values.iter().map(|value| f64::from(*value)).sum::<f64>() / values.len() as f64;
        println!(
            "{name}: mean {mean:.1}, white {:.3}, black {:.3}",
            share(|value| value == 255),
            share(|value| value == 0)
        );
        assert!((25.0..200.0).contains(&mean), "{name}: mean {mean:.1}");
        assert!(share(|value| value == 255) < 0.05 && share(|value| value > 150) > 0.01, "{name}");
    }
}
