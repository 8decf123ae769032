//! Laws of nature that the checks and the gauges rest on: dew point, gloss of a smooth film.

use serde::Deserialize;
use tapeline::catalog::{dew_point, gloss_of_index};

use super::{near, read};

#[derive(Deserialize)]
struct Dew {
    absolute: f64,
    absolute_of_margin: f64,
    point: Vec<Point>,
    surface: Vec<Surface>,
}

#[derive(Deserialize)]
struct Point {
    air: f64,
    humidity: f64,
    dew: f64,
    low: f64,
    high: f64,
}

#[derive(Deserialize)]
struct Surface {
    air: f64,
    humidity: f64,
    on: f64,
    margin: f64,
    enough: bool,
}

#[test]
fn dew_points_agree_with_the_published_formulas() {
    let truth: Dew = read(include_str!("dew.toml"));
    assert_eq!((truth.point.len(), truth.surface.len()), (7, 2));
    for point in &truth.point {
        let found = dew_point(point.air, point.humidity).unwrap();
        near("dew point", found, point.dew, (0.0, truth.absolute));
        assert!((point.low..=point.high).contains(&found));
    }
    for one in &truth.surface {
        let margin = one.on - dew_point(one.air, one.humidity).unwrap();
        near("margin", margin, one.margin, (0.0, truth.absolute_of_margin));
        assert_eq!(margin >= 3.0, one.enough);
    }
    assert_eq!(dew_point(20.0, 0.0), None);
}

/// Index, angle, share thrown back by the equations of Fresnel, gloss where black glass of 1.567 has 100 GU (ISO 2813:2014).
const GLOSS: [(f64, f64, f64, f64); 12] = [
    (1.4, 20.0, 0.027_997_889_250_951_21, 57.047_621_450_473_905),
    (1.4, 60.0, 0.071_976_701_183_431_95, 71.936_393_659_926_98),
    (1.4, 85.0, 0.598_321_919_540_652, 96.636_299_383_652_51),
    (1.5, 20.0, 0.040_266_228_666_480_48, 82.045_205_251_519_35),
    (1.5, 60.0, 0.089_186_712_802_212_78, 89.136_767_535_709_88),
    (1.5, 85.0, 0.612_799_645_264_827_3, 98.974_628_954_713_4),
    (1.567, 20.0, 0.049_078_100_960_366_376, 100.0),
    (1.567, 60.0, 0.100_056_032_171_553_55, 100.0),
    (1.567, 85.0, 0.619_148_211_755_578_9, 100.0),
    (1.65, 20.0, 0.060_475_547_676_812_57, 123.223_080_138_431_48),
    (1.65, 60.0, 0.112_894_634_242_308_74, 112.831_412_351_773_5),
    (1.65, 85.0, 0.624_494_112_380_212_5, 100.863_428_258_877_7),
];

#[test]
fn gloss_of_a_smooth_film_follows_from_its_index() {
    for (n, degrees, share, expected) in GLOSS {
        let of_black_glass = GLOSS.iter().find(|one| (one.0, one.1) == (1.567, degrees)).unwrap().2;
        let found = gloss_of_index(n, degrees);
        near("gloss", found, expected, (1e-9, 0.0));
        near("share thrown back", found / 100.0 * of_black_glass, share, (1e-9, 0.0));
    }
    // The other way round: 95 GU at 60 degrees and 80 GU at 20 degrees.
    near("gloss", gloss_of_index(1.535_789_254_166_909_4, 60.0), 95.0, (1e-9, 0.0));
    near("gloss", gloss_of_index(1.492_157_991_240_378, 20.0), 80.0, (1e-9, 0.0));
}

/// The table of ISO 2813:1994 (table 2), to its one decimal: index, then gloss at 20, 60 and 85 degrees. From memory.
#[test]
fn gloss_agrees_with_the_table_of_the_standard() {
    let table = [
        (1.400, [57.0, 71.9, 96.6]),
        (1.460, [71.8, 82.4, 98.2]),
        (1.500, [82.0, 89.1, 99.0]),
        (1.540, [92.7, 95.7, 99.6]),
        (1.600, [109.1, 105.2, 100.4]),
        (1.700, [137.6, 120.3, 101.2]),
        (1.800, [167.0, 134.6, 101.7]),
    ];
    for (n, row) in table {
        for (degrees, expected) in [20.0, 60.0, 85.0].into_iter().zip(row) {
            near("gloss", gloss_of_index(n, degrees), expected, (0.0, 0.0501));
        }
    }
}
