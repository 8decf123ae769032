//! Every row is placed or reported: the counts add up, whatever is wrong with the rows.

use super::{read_text, told};
use std::collections::BTreeSet;

#[test]
fn rows_are_placed_or_reported_and_the_counts_add_up() {
    let mut state = 42_u64;
    let mut next = |below: usize| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(state >> 33).unwrap() % below
    };
    for _ in 0..40 {
        let mut text = String::from("date,round,section,measure,value,unit,by\n");
        let (mut placed, mut faulty) = (0, BTreeSet::new());
        for row in 2..302 {
            // Every fault carries its row, so that none is told together with another.
            let (line, good) = match next(12) {
                0 => (format!("2026-03-11,fresh,X{row},gloss-20,80,GU,"), false),
                1 => (format!("2026-03-11,round {row} x,A1,gloss-20,80,GU,"), false),
                2 => (format!("2026-03-11,fresh,A1,m{row},80,GU,"), false),
                3 => (format!("2026-03-11,fresh,A1,gloss-20,80x{row},GU,"), false),
                4 => (format!("2026-03-11,fresh,A1,gloss-20,80,u{row},"), false),
                5 => (format!("2026-03-11,fresh,A1,gloss-20,-{row},GU,"), false),
                _ => (format!("2026-03-11,fresh,A{},gloss-20,80.{row},GU,\"N., R.\"", 1 + next(3)), true),
            };
            text.push_str(&line);
            text.push('\n');
            if good {
                placed += 1;
            } else {
                faulty.insert(row);
            }
        }
        let (readings, findings) = read_text(&text);
        let file = readings.files[0];
        assert_eq!((file.rows, file.readings, file.refused), (300, placed, faulty.len()));
        assert_eq!(readings.len(), placed);
        assert_eq!(readings.cells().iter().map(|cell| cell.taken as usize).sum::<usize>(), placed);
        let lines: BTreeSet<usize> = told(&text, &findings)
            .iter()
            .map(|told| told.split(' ').next().unwrap().parse().unwrap())
            .collect();
        assert_eq!(lines, faulty);
    }
}
