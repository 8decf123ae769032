//! Photos of a folder: placed by their names, shown without metadata, and told where they are missing or broken.

use super::{Bench, Run};
use std::fs;
use tapeline::checks::example;

/// ISO/IEC 15948, annex D.
fn crc(bytes: &[u8]) -> u32 {
    let mut crc = u32::MAX;
    for byte in bytes {
        crc ^= u32::from(*byte);
        for _ in 0..8 {
            crc = if crc & 1 == 1 { 0xedb8_8320 ^ (crc >> 1) } else { crc >> 1 };
        }
    }
    !crc
}

/// A grey picture of one pixel with the name of its author.
fn png(grey: u8) -> Vec<u8> {
    let chunk = |kind: &[u8], content: &[u8]| {
        let checked = [kind, content].concat();
        [&u32::try_from(content.len()).unwrap().to_be_bytes()[..], &checked, &crc(&checked).to_be_bytes()]
            .concat()
    };
    // One stored block of two bytes, filter and pixel (RFC 1950 and 1951).
    let sum = 1 + u32::from(grey);
    let adler = ((1 + sum) << 16 | sum).to_be_bytes();
    let data = [&[0x78, 0x01, 0x01, 0x02, 0x00, 0xfd, 0xff, 0x00, grey][..], &adler].concat();
    let head = chunk(b"IHDR", &[0, 0, 0, 1, 0, 0, 0, 1, 8, 0, 0, 0, 0]);
    let text = chunk(b"tEXt", b"Author\0Ada Field, 51.5 N");
    [&b"\x89PNG\r\n\x1a\n"[..], &head, &text, &chunk(b"IDAT", &data), &chunk(b"IEND", b"")].concat()
}

/// The bones of a photo with a place, held upside down: frame and coded data, with nothing to see.
fn jpeg() -> Vec<u8> {
    let exif = b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x03\0\0\0\0\0\0GPS 51.5 N";
    let length = u16::try_from(exif.len() + 2).unwrap().to_be_bytes();
    [
        &[0xff, 0xd8, 0xff, 0xe1][..],
        &length,
        exif,
        &[0xff, 0xc0, 0, 11, 8, 0, 3, 0, 5, 1, 1, 0x11, 0],
        &[0xff, 0xda, 0, 8, 1, 1, 0, 0, 63, 0, 0x12, 0x34, 0xff, 0xd9],
    ]
    .concat()
}

/// Sections A1 to C4, rounds baseline, fresh and month 3.
fn bench(name: &str, files: &[(&str, Vec<u8>)]) -> Bench {
    let bench = Bench::new(name);
    bench.write("door.study", example("photos \"shots\"\n").study);
    let days = [("2026-03-02", "baseline"), ("2026-03-11", "fresh"), ("2026-06-03", "month 3")];
    let rows = days.map(|(day, round)| format!("{day},{round},A1,gloss-20,88.4\n"));
    bench.write("readings.csv", format!("date,round,section,measure,value\n{}", rows.concat()));
    fs::create_dir(bench.folder.join("shots")).unwrap();
    for (name, bytes) in files {
        bench.write(&format!("shots/{name}"), bytes);
    }
    bench
}

fn built(bench: &Bench, command: &str, study: &str, out: &str) -> Run {
    let run = bench.run(&[command, study, "-o", out, "--as-of", "2026-07-01"]);
    assert_eq!(run.code, 0, "{run:?}");
    run
}

fn page(bench: &Bench, out: &str) -> String {
    fs::read_to_string(bench.folder.join(out).join("photos.html")).unwrap()
}

#[test]
fn names_in_any_spelling_are_placed_and_what_is_missing_is_listed() {
    let files = [
        ("A1 month-3.PNG", png(1)),
        ("a2_Month 3.jpeg", jpeg()),
        ("month3-b4.png", png(2)),
        ("C4.fresh.JPG", jpeg()),
        ("C4 fresh (2).jpg", jpeg()),
        (".hidden", b"left by a file manager".to_vec()),
    ];
    let bench = bench("photos by name", &files);
    let run = built(&bench, "build", "door.study", "out");
    assert!(!run.out.contains("photo-"), "{run:?}");
    let names = ["A1-month-3.png", "A2-month-3.jpg", "B4-month-3.png", "C4-fresh-2.jpg", "C4-fresh.jpg"];
    assert_eq!(bench.names("out/photos"), names);
    let page = page(&bench, "out");
    assert!(page.contains("<h2>5 photos, of 4 of 12 sections at 2 rounds</h2>"), "{page}");
    assert!(page.contains("<li>month 3: A3, A4, B1, B2, B3, C1, C2, C3 and C4.</li>"), "{page}");
    assert!(page.contains("<li>fresh: A1, A2, A3, A4, B1, B2, B3, B4, C1, C2 and C3.</li>"), "{page}");
    assert!(page.find("photos/C4-fresh.jpg") < page.find("photos/C4-fresh-2.jpg"));
    let rows: Vec<&str> =
        page.split("<th scope=\"row\">").skip(1).map(|row| row.split('<').next().unwrap()).collect();
    assert_eq!(rows, ["A1", "A2", "A3", "A4", "B1", "B2", "B3", "B4", "C1", "C2", "C3", "C4"]);
    assert!(
        fs::read_to_string(bench.folder.join("out/index.html")).unwrap().contains("href=\"photos.html\"")
    );
}

#[test]
fn no_metadata_leaves_the_folder_and_the_way_up_stays() {
    let files = [("A1 fresh.jpg", jpeg()), ("A2 fresh.png", png(9))];
    let bench = bench("photos without metadata", &files);
    built(&bench, "build", "door.study", "out");
    built(&bench, "bundle", "door.study", "bundle");
    for folder in ["out/photos", "bundle/photos", "bundle/study/shots"] {
        let files = bench.bytes(folder);
        assert_eq!(files.len(), 2, "{folder}");
        for (name, bytes) in files {
            let text = String::from_utf8_lossy(&bytes);
            assert!(!text.contains("51.5") && !text.contains("Ada"), "{folder}/{name}: {text}");
        }
    }
    // Orientation 3 in an Exif segment of its own.
    let turned = fs::read(bench.folder.join("out/photos/A1-fresh.jpg")).unwrap();
    let way = [0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, 3];
    assert!(turned.windows(way.len()).any(|found| found == way), "{turned:?}");
    // What was taken is left as it was.
    assert_eq!(fs::read(bench.folder.join("shots/A1 fresh.jpg")).unwrap(), jpeg());
}

#[test]
fn what_fits_nowhere_and_what_is_broken_is_told_and_not_shown() {
    let mut cut = png(3);
    cut.truncate(60);
    let files =
        [("IMG_0412.JPG", jpeg()), ("A1 fresh.png", cut), ("A2 fresh.heic", b"\0\0\0\x18ftypheic".to_vec())];
    let bench = bench("photos that are broken", &files);
    let run = built(&bench, "build", "door.study", "out");
    for told in [
        "`IMG_0412.JPG` fits no section and round",
        "name it by section and round, as `A1 month 3.jpg`",
        "`A1 fresh.png` is no whole JPEG or PNG",
        "`A2 fresh.heic` is no whole JPEG or PNG",
    ] {
        assert!(run.out.contains(told), "{told}: {}", run.out);
    }
    assert!(bench.names("out/photos").is_empty());
    assert!(page(&bench, "out").contains("<h2>0 photos, of 0 of 12 sections at 0 rounds</h2>"));
}

#[test]
fn a_bundle_makes_the_same_pages_again() {
    let files = [("b1 Fresh.JPEG", jpeg()), ("B2-fresh.png", png(7)), ("notes.txt", b"mine".to_vec())];
    let bench = bench("photos in a bundle", &files);
    built(&bench, "bundle", "door.study", "first");
    built(&bench, "bundle", "first/study/door.study", "second");
    for folder in ["", "photos", "study/shots"] {
        let files = |bundle: &str| {
            let names = bench.names(&format!("{bundle}/{folder}"));
            let files =
                names.into_iter().filter(|name| bench.folder.join(bundle).join(folder).join(name).is_file());
            let read = |name: String| {
                let path = bench.folder.join(bundle).join(folder).join(&name);
                (name, fs::read(path).unwrap())
            };
            files.map(read).collect::<Vec<_>>()
        };
        assert_eq!(files("first"), files("second"), "{folder}");
    }
    let about = fs::read_to_string(bench.folder.join("first/datapackage.json")).unwrap();
    assert!(
        about.contains("\"path\": \"study/shots/b1 Fresh.JPEG\"") && about.contains("\"image/jpeg\""),
        "{about}"
    );
}

#[test]
fn photos_are_never_written_over() {
    let bench = bench("photos beside themselves", &[("A1 fresh.jpg", jpeg())]);
    let text = example("photos \"photos\"\n").study;
    bench.write("door.study", text);
    fs::rename(bench.folder.join("shots"), bench.folder.join("photos")).unwrap();
    let run = bench.run(&["build", "door.study", "-o", ".", "--as-of", "2026-07-01"]);
    assert_eq!(run.code, 2, "{run:?}");
    assert!(run.err.contains("choose another folder with `-o`"), "{run:?}");
    assert_eq!(bench.names("photos"), ["A1 fresh.jpg"]);
}

#[test]
fn a_day_that_is_asked_for_leaves_later_rounds_aside() {
    let bench = bench("photos as of", &[("A1 fresh.jpg", jpeg()), ("A1 month 3.jpg", jpeg())]);
    let run = bench.run(&["build", "door.study", "-o", "out", "--as-of", "2026-04-01"]);
    assert_eq!(run.code, 0, "{run:?}");
    assert_eq!(bench.names("out/photos"), ["A1-fresh.jpg"]);
}

/// A picture of 2400 x 1800 pixels, dark on the left and bright on the right, held on its side.
fn large() -> Vec<u8> {
    let row = (0..2400_u32).flat_map(|x| [u8::try_from(x / 10).unwrap(), 90, 200]);
    let row: Vec<u8> = row.collect();
    let mut out = Vec::new();
    let mut encoder = jpeg_encoder::Encoder::new(&mut out, 95);
    let exif = b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0\0\0\0\0GPS 51.5 N";
    encoder.add_app_segment(1, exif.to_vec()).unwrap();
    encoder.encode(&row.repeat(1800), 2400, 1800, jpeg_encoder::ColorType::Rgb).unwrap();
    out
}

#[test]
fn a_large_photo_that_is_a_png_is_shown_by_a_smaller_copy_too() {
    let mut drawn = resvg::tiny_skia::Pixmap::new(2400, 1800).unwrap();
    for (at, pixel) in drawn.data_mut().chunks_exact_mut(4).enumerate() {
        // Red rises from left to right by 1 in 10 pixels, and all is opaque.
        pixel.copy_from_slice(&[u8::try_from(at % 2400 / 10).unwrap(), 0, 200, 255]);
    }
    let whole = drawn.encode_png().unwrap();
    let bench = bench("photos that are large PNG", &[("A1 fresh.png", whole.clone())]);
    built(&bench, "build", "door.study", "out");
    built(&bench, "bundle", "door.study", "bundle");
    let copy = fs::read(bench.folder.join("out/photos/A1-fresh.png")).unwrap();
    let shown = resvg::tiny_skia::Pixmap::decode_png(&copy).unwrap();
    assert_eq!((shown.width(), shown.height()), (1600, 1200));
    for x in [10, 800, 1590] {
        let pixel = shown.pixel(x, 600).unwrap();
        assert!(
            (f64::from(pixel.red()) - f64::from(x) * 0.15).abs() < 2.0 && pixel.blue() == 200,
            "{x}: {pixel:?}"
        );
    }
    assert!(page(&bench, "out").contains("width=\"1600\" height=\"1200\""), "{}", page(&bench, "out"));
    assert_eq!(fs::read(bench.folder.join("bundle/study/shots/A1 fresh.png")).unwrap().len(), whole.len());
}

#[test]
fn large_photos_are_shown_by_smaller_copies_and_published_whole() {
    let bench = bench("photos that are large", &[("A1 fresh.jpg", large()), ("A2 fresh.jpg", jpeg())]);
    built(&bench, "build", "door.study", "out");
    built(&bench, "build", "door.study", "again");
    built(&bench, "bundle", "door.study", "bundle");
    let copy = fs::read(bench.folder.join("out/photos/A1-fresh.jpg")).unwrap();
    assert_eq!(copy, fs::read(bench.folder.join("again/photos/A1-fresh.jpg")).unwrap());
    let mut decoder = zune_jpeg::JpegDecoder::new(zune_core::bytestream::ZCursor::new(&copy));
    let pixels = decoder.decode().unwrap();
    assert_eq!(decoder.dimensions(), Some((1600, 1200)));
    // Red rises from left to right as it did, blue stays.
    let at = |x: usize| &pixels[(600 * 1600 + x) * 3..][..3];
    for x in [10, 800, 1590] {
        let (red, blue) = (f64::from(at(x)[0]), f64::from(at(x)[2]));
        assert!((red - x as f64 * 0.15).abs() < 8.0 && (blue - 200.0).abs() < 8.0, "{x}: {:?}", at(x));
    }
    let way = [0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, 6];
    assert!(copy.windows(way.len()).any(|found| found == way));
    assert!(!String::from_utf8_lossy(&copy).contains("51.5"));
    assert!(page(&bench, "out").contains("width=\"1200\" height=\"1600\""), "{}", page(&bench, "out"));
    let whole = fs::read(bench.folder.join("bundle/study/shots/A1 fresh.jpg")).unwrap();
    assert!(whole.len() > copy.len() && whole.windows(way.len()).any(|found| found == way));
    // What is small is as it was.
    let small = fs::read(bench.folder.join("out/photos/A2-fresh.jpg")).unwrap();
    assert_eq!(small, fs::read(bench.folder.join("bundle/study/shots/A2 fresh.jpg")).unwrap());
}

#[test]
fn a_folder_below_that_of_the_photos_is_told() {
    let bench = bench("photos below", &[("A1 fresh.png", png(3))]);
    fs::create_dir(bench.folder.join("shots/more")).unwrap();
    bench.write("shots/more/B1 fresh.png", png(4));
    let run = built(&bench, "build", "door.study", "out");
    assert!(run.out.contains("`more` is a folder below `shots`, and is not looked into"), "{}", run.out);
    assert_eq!(bench.names("out/photos").len(), 1);
}
