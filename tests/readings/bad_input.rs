//! Files that are no files of readings, and files that were cut, glued or garbled.

use super::{read_bytes, read_text, study, told};

fn codes(bytes: &[u8]) -> Vec<&'static str> {
    let (_, findings) = read_bytes(&study::study(), bytes);
    findings.iter().map(|finding| finding.code).collect()
}

#[test]
fn other_encodings_and_workbooks_are_recognised() {
    let text = "date,round,section,measure,value,by\n2026-03-11,fresh,A1,gloss-20,88.4,M\u{fc}ller\n";
    let wide: Vec<u8> = text.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let big: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
    assert_eq!(codes(&wide), ["not-utf8"]);
    assert_eq!(codes(&big), ["not-utf8"]);
    assert_eq!(codes(&[&[0xff, 0xfe], wide.as_slice()].concat()), ["not-utf8"]);
    let latin: Vec<u8> = text.chars().map(|letter| u8::try_from(u32::from(letter)).unwrap()).collect();
    let (_, findings) = read_bytes(&study::study(), &latin);
    assert_eq!(findings[0].code, "not-utf8");
    assert_eq!(findings[0].label, "an old 8-bit encoding, perhaps `\u{fc}`");
    assert_eq!(findings[0].place.span.start as usize, text.find('\u{fc}').unwrap());
    assert_eq!(codes(b"PK\x03\x04\x14\x00\x06\x00"), ["workbook"]);
    assert_eq!(codes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), ["workbook"]);
}

#[test]
fn letters_lost_in_an_earlier_save_are_told_once() {
    let row = "2026-03-11,fresh,A1,gloss-20,88.4,M\u{fffd}ller\n";
    let text = format!("date,round,section,measure,value,by\n{}", row.repeat(4));
    let (readings, findings) = read_text(&text);
    assert_eq!(told(&text, &findings), ["2 not-utf8 [M\u{fffd}ller]"]);
    assert!(findings[0].message.ends_with("3 places more like it"), "{}", findings[0].message);
    assert_eq!(readings.len(), 4);
}

#[test]
fn nothing_and_almost_nothing_are_no_disaster() {
    assert_eq!(codes(b""), ["readings-empty"]);
    assert_eq!(codes(b"\xef\xbb\xbf"), ["readings-empty"]);
    assert_eq!(codes(b"\r\n\r\n"), ["readings-empty"]);
    assert_eq!(codes(b"x"), ["header-not-known"]);
    assert_eq!(codes(b"\0\0\0"), ["header-not-known"]);
    assert_eq!(codes(b"date,round,section,measure,value"), Vec::<&str>::new());
    let empty = tapeline::study::Study { readings: vec![study::file("r.csv")], ..Default::default() };
    let (readings, findings) =
        read_bytes(&empty, b"date,round,section,measure,value\n2026-03-11,fresh,A1,film,1\n");
    assert!(readings.is_empty());
    assert_eq!(findings.len(), 3);
    assert!(findings.iter().any(|finding| finding.help == ["the study has no section yet"]));
}

#[test]
fn a_field_of_a_million_letters_is_shown_short() {
    let long = "x".repeat(1_000_000);
    let text = format!("date,round,section,measure,value\n2026-03-11,fresh,{long},gloss-20,{long}\n");
    let (_, findings) = read_text(&text);
    assert_eq!(findings.len(), 2);
    assert!(findings.iter().all(|finding| finding.message.len() < 120), "{}", findings[0].message.len());
    assert_eq!(findings[0].place.span.end - findings[0].place.span.start, 1_000_000);
}

#[test]
fn a_row_of_a_million_fields_and_a_header_of_many_columns_are_read() {
    let text = format!(
        "date,round,section,measure,value\n2026-03-11,fresh,A1,gloss-20,88.4{}\n",
        ",x".repeat(500_000)
    );
    assert_eq!(codes(text.as_bytes()), ["row-too-long"]);
    let numbers: Vec<String> = (1..=3000).map(|number| number.to_string()).collect();
    let text = format!(
        "round,section,measure,date,{}\nfresh,A1,gloss-20,2026-03-11{}\n",
        numbers.join(","),
        ",x".repeat(3000)
    );
    let (_, findings) = read_text(&text);
    assert_eq!(findings.len(), 1);
    assert!(findings[0].message.ends_with("2999 places more like it"), "{}", findings[0].message);
}

#[test]
fn zero_bytes_are_shown_and_do_not_end_a_text() {
    let text = "date,round,section,measure,value\n2026-03-11,fresh,A1,gloss-20,8\u{0}8\n";
    let (_, findings) = read_text(text);
    assert_eq!(told(text, &findings), ["2 not-a-number [8\u{0}8]"]);
    assert_eq!(findings[0].message, "`8\u{b7}8` is not a number");
}

#[test]
fn an_open_quote_costs_its_own_row() {
    let text = "date,round,section,measure,value,note\n2026-03-11,fresh,A1,gloss-20,88.4,\"dry\n\
        2026-03-11,fresh,A2,gloss-20,88.6,\n2026-03-11,fresh,A9,gloss-20,88.6,\n";
    let (readings, findings) = read_text(text);
    assert_eq!(told(text, &findings), ["2 unclosed-quote [\"]", "4 unknown-section [A9]"]);
    assert_eq!((readings.len(), readings.files[0].refused), (1, 2));
}

#[test]
fn no_bytes_make_the_reader_fall() {
    let seed = "\u{feff}date;round,section\t\"measure\",value,1,reading,unit\r\n2026-03-11,fresh,A1,gloss-20,\"88,4\",<1,-,mil\n";
    let mut state = 1_234_567_u64;
    let mut next = || {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        usize::try_from(state >> 33).unwrap()
    };
    for _ in 0..20_000 {
        let mut bytes = seed.as_bytes().to_vec();
        for _ in 0..next() % 8 {
            let at = next() % bytes.len().max(1);
            match next() % 3 {
                0 if !bytes.is_empty() => bytes[at] = b",;\t\"\n\r\x00\xff<-.0"[next() % 12],
                1 => bytes.truncate(at + 20),
                _ => bytes.insert(at.min(bytes.len()), b",\"\n;"[next() % 4]),
            }
        }
        let (readings, findings) = read_bytes(&study::study(), &bytes);
        let state = readings.files[0];
        assert!(state.refused + state.waiting <= state.rows);
        assert!(findings.iter().all(|finding| !finding.message.is_empty()));
    }
}
