//! What a layout can tell apart, before anything is bought: against the noncentral t distribution.

use serde::Deserialize;
use tapeline::planning::{Room, Scatter};

use super::{near, read};

#[derive(Deserialize)]
struct Rooms {
    relative: f64,
    two_groups: TwoGroups,
    nested: Vec<Nested>,
}

#[derive(Deserialize)]
struct TwoGroups {
    n: usize,
    sd: f64,
    smallest: f64,
}

#[derive(Deserialize)]
struct Nested {
    sections: usize,
    readings: u32,
    variances: [f64; 2],
    error: f64,
    of_two: [f64; 2],
    of_all: [f64; 2],
    wrongly: [f64; 2],
}

/// One product against bare alone, so that one difference is asked for; the spread may rest on more than these two.
fn one_difference(n: usize, df: usize) -> f64 {
    Room { df, ..Room::even(1, n, n) }.smallest().unwrap()
}

#[test]
fn the_smallest_difference_agrees_with_the_noncentral_t() {
    let truth: Rooms = read(include_str!("room.toml"));
    assert_eq!(truth.nested.len(), 2);
    let tolerance = (truth.relative, 0.0);
    let two = truth.two_groups;
    let room = Room::even(1, two.n, two.n);
    near("two groups", room.smallest().unwrap() * two.sd, two.smallest, tolerance);
    for set in truth.nested {
        let n = set.sections;
        let [sections, reading] = set.variances.map(f64::sqrt);
        let of_section = Scatter { sections, reading, means: 1 }.of_section(set.readings);
        near("error", of_section * (2.0 / n as f64).sqrt(), set.error, tolerance);
        // Twelve products, and no bare section.
        let layouts = [(Room::even(1, n, n), set.of_two), (Room::even(12, n, 0), set.of_all)];
        for (room, [df, smallest]) in layouts {
            near("df", room.df as f64, df, (0.0, 0.0));
            near("smallest", one_difference(n, room.df) * of_section, smallest, tolerance);
        }
        let readings = n * set.readings as usize;
        let wrong = Room::even(1, readings, readings);
        near("df", wrong.df as f64, set.wrongly[0], (0.0, 0.0));
        let of_reading = sections.hypot(reading);
        near("wrongly", wrong.smallest().unwrap() * of_reading, set.wrongly[1], tolerance);
    }
}
