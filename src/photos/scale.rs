//! Smaller copies of photos: as large as a page shows them, whole where they are no larger, and the same bytes every time.

use super::{Kind, Photo};
use jpeg_encoder::{ColorType, Encoder};
use zune_core::bytestream::ZCursor;
use zune_core::colorspace::ColorSpace;
use zune_core::options::DecoderOptions;
use zune_jpeg::JpegDecoder;

/// The longer side of a copy, in pixels: a screen wide, or a print of 13 cm at 300 dots an inch.
const LONGEST: u32 = 1600;
/// Quality of a copy, of 100; below it edges of tape begin to ring.
const QUALITY: u8 = 85;

/// Width and height of a copy.
pub(super) fn copied((width, height): (u32, u32)) -> (u32, u32) {
    let longer = width.max(height);
    let side = |side: u32| {
        let scaled = (u64::from(side) * u64::from(LONGEST) + u64::from(longer) / 2) / u64::from(longer);
        u32::try_from(scaled).unwrap_or(LONGEST).max(1)
    };
    if longer <= LONGEST { (width, height) } else { (side(width), side(height)) }
}

/// The bytes of a copy; the photo itself where it is no larger, or is coded in a way that cannot be made smaller here.
pub(super) fn copy(photo: &Photo) -> Vec<u8> {
    let smaller = match photo.kind {
        _ if copied(photo.size) == photo.size => None,
        Kind::Jpeg => jpeg(&photo.bytes),
        Kind::Png => png(&photo.bytes),
    };
    smaller.unwrap_or_else(|| photo.bytes.clone())
}

/// Pixels row by row, so many bytes each.
struct Pixels {
    size: (u32, u32),
    bytes: Vec<u8>,
    each: usize,
}

fn jpeg(bytes: &[u8]) -> Option<Vec<u8>> {
    let mut decoder = JpegDecoder::new(ZCursor::new(bytes));
    decoder.decode_headers().ok()?;
    let (wanted, each, color) = match decoder.input_colorspace()? {
        ColorSpace::Luma => (ColorSpace::Luma, 1, ColorType::Luma),
        ColorSpace::RGB | ColorSpace::YCbCr => (ColorSpace::RGB, 3, ColorType::Rgb),
        _ => return None,
    };
    decoder.set_options(DecoderOptions::default().jpeg_set_out_colorspace(wanted));
    let (width, height) = decoder.dimensions()?;
    let pixels = decoder.decode().ok()?;
    let size = (u32::try_from(width).ok()?, u32::try_from(height).ok()?);
    let small = smaller(&Pixels { size, bytes: pixels, each })?;
    let mut out = Vec::new();
    let mut encoder = Encoder::new(&mut out, QUALITY);
    // Which way up it was held, and the colours that its numbers mean, stay.
    if let Some(exif) = decoder.exif() {
        encoder.add_app_segment(1, [b"Exif\0\0", exif.as_slice()].concat()).ok()?;
    }
    if let Some(profile) = decoder.icc_profile() {
        encoder.add_icc_profile(&profile).ok()?;
    }
    let (width, height) = (u16::try_from(small.size.0).ok()?, u16::try_from(small.size.1).ok()?);
    encoder.encode(&small.bytes, width, height, color).ok()?;
    Some(out)
}

fn png(bytes: &[u8]) -> Option<Vec<u8>> {
    let mut decoder = png::Decoder::new(std::io::Cursor::new(bytes));
    decoder.set_transformations(png::Transformations::normalize_to_color8());
    let mut reader = decoder.read_info().ok()?;
    let mut pixels = vec![0; reader.output_buffer_size()?];
    let info = reader.next_frame(&mut pixels).ok()?;
    pixels.truncate(info.buffer_size());
    let each = info.color_type.samples();
    let small = smaller(&Pixels { size: (info.width, info.height), bytes: pixels, each })?;
    let mut out = Vec::new();
    let mut encoder = png::Encoder::new(&mut out, small.size.0, small.size.1);
    encoder.set_color(info.color_type);
    encoder.set_depth(png::BitDepth::Eight);
    if let Some(gamma) = reader.info().source_gamma {
        encoder.set_source_gamma(gamma);
    }
    let mut writer = encoder.write_header().ok()?;
    writer.write_image_data(&small.bytes).ok()?;
    writer.finish().ok()?;
    Some(out)
}

/// Each pixel is the mean of those that it takes the place of.
fn smaller(from: &Pixels) -> Option<Pixels> {
    let size = copied(from.size);
    let row = from.size.0 as usize * from.each;
    if from.bytes.len() != row * from.size.1 as usize {
        return None;
    }
    let range = |at: u32, small: u32, large: u32| {
        let place = |at: u32| at as usize * large as usize / small as usize;
        place(at)..place(at + 1)
    };
    let mut bytes = Vec::with_capacity(size.0 as usize * size.1 as usize * from.each);
    for y in 0..size.1 {
        let rows = range(y, size.1, from.size.1);
        for x in 0..size.0 {
            let columns = range(x, size.0, from.size.0);
            let count = (rows.len() * columns.len()) as u64;
            for channel in 0..from.each {
                let sum: u64 = rows
                    .clone()
                    .flat_map(|y| columns.clone().map(move |x| y * row + x * from.each + channel))
                    .map(|at| u64::from(from.bytes[at]))
                    .sum();
                bytes.push(u8::try_from((sum + count / 2) / count).unwrap_or(u8::MAX));
            }
        }
    }
    Some(Pixels { size, bytes, each: from.each })
}
