//! Numbers of cells: hand-worked values, and no bit that depends on the order of rows.

use super::{cell, read_bytes, read_sound, study};
use std::collections::BTreeMap;
use tapeline::readings::{Cell, Input, Readings, read};
use tapeline::study::{MeasureId, RoundId, SectionId};
use tapeline::text::FileId;

#[test]
fn a_hand_worked_cell() {
    let readings = read_sound(
        "date,round,section,measure,value\n2026-03-12,fresh,A2,gloss-20,13\n2026-03-11,fresh,A2,gloss-20,4\n\
         2026-03-11,fresh,A2,gloss-20,16\n2026-03-13,fresh,A2,gloss-20,7\n",
    );
    let cell = cell(&readings, 1, 1, 0);
    assert_eq!((cell.kept.n, cell.kept.mean(), cell.kept.sd()), (4, Some(10.0), Some(30.0_f64.sqrt())));
    assert_eq!((cell.kept.min, cell.kept.max), (4.0, 16.0));
    let days = (jiff::civil::date(2026, 3, 11), jiff::civil::date(2026, 3, 13));
    assert_eq!(cell.dates, Some(days));
    assert_eq!(readings.dates(RoundId::new(1)), Some(days));
    assert_eq!(readings.last_date(), Some(days.1));
    assert_eq!(readings.values(&cell), [4.0, 7.0, 13.0, 16.0]);
    assert_eq!(readings.cell(SectionId::new(0), RoundId::new(1), MeasureId::new(0)), None);
}

#[test]
fn readings_are_counted_by_gauge_and_person() {
    let readings = read_sound(
        "date,round,section,measure,value,gauge,by\n2026-03-12,fresh,A2,gloss-20,13,head,Ina\n\
         2026-03-12,fresh,A2,gloss-20,14,head,Ina\n2026-03-11,fresh,A3,gloss-20,16,HEAD,ina\n\
         2026-03-13,fresh,A2,gloss-20,7,head,\n2026-03-12,fresh,A2,gloss-20,15,head,Ina\n\
         2026-03-12,fresh,A2,gloss-20,n/a,probe,Tore\n",
    );
    let mut counts = BTreeMap::new();
    for (gauge, person, count) in readings.by_hand() {
        *counts.entry((gauge, person)).or_insert(0) += count;
    }
    let told = [(("head", None), 1), (("head", Some("Ina")), 4), (("probe", Some("Tore")), 1)];
    assert_eq!(counts, told.map(|((gauge, person), count)| ((Some(gauge), person), count)).into());
    assert_eq!(counts.values().sum::<usize>(), readings.len());
}

/// A generator of numbers (Marsaglia 2003, xorshift).
fn next(state: &mut u64) -> usize {
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    usize::try_from(*state >> 33).unwrap()
}

/// Cells without the places of their readings.
fn numbers(readings: &Readings) -> Vec<String> {
    let shown = |cell: &Cell| {
        let bits = [cell.kept, readings.with_left_out(cell)]
            .map(|one| (one.n, one.mean().map(f64::to_bits), one.sd().map(f64::to_bits)));
        format!(
            "{:?} {bits:?} {} {} {} {:?} {:?} {:?}",
            (cell.section, cell.round, cell.measure),
            cell.below_gauge,
            cell.not_taken,
            cell.left_out,
            cell.dates,
            readings.gauges(cell),
            readings.read_by(cell),
        )
    };
    readings.cells().iter().map(shown).collect()
}

#[test]
fn the_order_of_rows_changes_no_bit_of_a_cell() {
    let mut state = 2_463_534_242_u64;
    let mut rows: Vec<String> = (0..2000)
        .map(|_| {
            let (section, round) =
                (["A1", "A2", "B3"][next(&mut state) % 3], ["fresh", "month 6"][next(&mut state) % 2]);
            let value = match next(&mut state) % 20 {
                0 => "<0.5".to_owned(),
                1 => "-".to_owned(),
                _ => format!("{}.{}", 50 + next(&mut state) % 40, next(&mut state) % 1000),
            };
            let gauge = ["one", "two"][next(&mut state) % 2];
            format!(
                "2026-03-{:02},{round},{section},gloss-20,{value},GU,{gauge},K. M.\n",
                10 + next(&mut state) % 9
            )
        })
        .collect();
    // The statement names a value that no other row can have.
    rows.push("2026-03-11,month 6,A1,gloss-20,158.75,GU,one,K. M.\n".into());
    let mut own = study::study();
    own.readings[0].leave_out = vec![study::leave_out(Some(4), Some(158.75))];
    let text = |rows: &[String]| format!("date,round,section,measure,value,unit,gauge,by\n{}", rows.concat());
    let (first, findings) = read_bytes(&own, text(&rows).as_bytes());
    assert!(findings.is_empty(), "{findings:?}");
    assert_eq!(first.cells().iter().map(|cell| cell.left_out).sum::<u32>(), 1);
    let before = numbers(&first);
    for _ in 0..20 {
        for at in (1..rows.len()).rev() {
            rows.swap(at, next(&mut state) % (at + 1));
        }
        let (shuffled, _) = read_bytes(&own, text(&rows).as_bytes());
        assert_eq!(numbers(&shuffled), before);
    }
}

#[test]
fn equal_rows_are_all_kept() {
    let row = "2026-03-11,fresh,A1,gloss-20,88.4\n";
    let readings = read_sound(&format!("date,round,section,measure,value\n{}", row.repeat(5)));
    let cell = cell(&readings, 0, 1, 0);
    assert_eq!((cell.kept.n, cell.kept.mean(), cell.kept.sd()), (5, Some(88.4), Some(0.0)));
    let numbers: Vec<u32> = readings.of(&cell).map(|one| one.number).collect();
    assert_eq!(numbers, [1, 2, 3, 4, 5]);
}

#[test]
fn several_files_fill_the_same_cells_and_one_may_be_absent() {
    let mut own = study::study();
    own.readings = vec![study::file("a.csv"), study::file("b.csv"), study::file("c.csv")];
    let text =
        |value: &str| format!("date,round,section,measure,value\n2026-03-11,fresh,A1,gloss-20,{value}\n");
    let (a, c) = (text("80"), text("90"));
    let inputs = [
        Some(Input { file: FileId(1), bytes: a.as_bytes() }),
        None,
        Some(Input { file: FileId(2), bytes: c.as_bytes() }),
    ];
    let (readings, findings) = read(&own, &inputs);
    assert!(findings.is_empty(), "{findings:?}");
    let cell = cell(&readings, 0, 1, 0);
    assert_eq!(cell.kept.mean(), Some(85.0));
    let places: Vec<(FileId, u32)> = readings.of(&cell).map(|one| (one.place.file, one.number)).collect();
    assert_eq!(places, [(FileId(1), 1), (FileId(2), 1)]);
    let present: Vec<bool> = readings.files.iter().map(|state| state.file.is_some()).collect();
    assert_eq!(present, [true, false, true]);
}

#[test]
fn a_study_too_large_for_a_plain_table_has_the_same_cells() {
    let mut own = study::study();
    own.rounds = (0..300_000).map(|week| study::round(&format!("week {week}"), 1, 1)).collect();
    let text = "date,round,section,measure,value\n2026-03-11,week 299999,B4,film,70\n\
        2026-03-11,week 0,A1,gloss-20,80\n2026-03-11,week 299999,B4,film,72\n";
    let (readings, findings) = read_bytes(&own, text.as_bytes());
    assert!(findings.is_empty(), "{findings:?}");
    assert_eq!(readings.cells().len(), 2);
    assert_eq!(cell(&readings, 7, 299_999, 1).kept.mean(), Some(71.0));
    assert_eq!(cell(&readings, 0, 0, 0).kept.mean(), Some(80.0));
}
