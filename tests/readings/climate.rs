//! Climate files: every row is placed at its time or reported, and what is missing stays missing.

use super::{study, told};
use jiff::civil::{Date, date};
use tapeline::diag::Finding;
use tapeline::readings::{Climate, ClimatePart, Input, read_as_of};
use tapeline::study::{ClimateColumn, ClimateFile, Study};
use tapeline::text::FileId;
use tapeline::units::{AnyQuantity, unit};

fn with(change: impl FnOnce(&mut ClimateFile)) -> Study {
    let mut file = ClimateFile {
        name: study::at("yard.csv".into()),
        site: None,
        columns: Vec::new(),
        each_row: None,
        hours: Vec::new(),
        broken: false,
    };
    change(&mut file);
    Study { climate: vec![file], ..study::study() }
}

fn read_with(study: &Study, text: &str, as_of: Option<Date>) -> (Climate, Vec<Finding>) {
    let input = Input { file: FileId(1), bytes: text.as_bytes() };
    let (readings, findings) = read_as_of(study, &[None, Some(input)], as_of);
    (readings.climate[0].clone(), findings)
}

/// The record of a text, and what was told of it.
fn read(text: &str) -> (Climate, Vec<String>) {
    let (climate, findings) = read_with(&with(|_| {}), text, None);
    (climate, told(text, &findings))
}

/// The only message of a text in which one thing is wrong.
fn message(text: &str) -> String {
    let (_, findings) = read_with(&with(|_| {}), text, None);
    assert_eq!(findings.len(), 1, "{findings:#?}");
    findings[0].message.clone()
}

#[test]
fn headings_are_known_with_their_units_in_any_of_the_usual_spellings() {
    let sound = [
        ("time,air degC\n2026-04-13 10:20,18\n", ClimatePart::Air, Some(18.0)),
        ("Date_Time;Air temperature (°F)\n2026-04-13T10:20:00;64,4\n", ClimatePart::Air, Some(18.0)),
        ("date\ttime\tair_degC\n2026-04-13\t10:20\t18\n", ClimatePart::Air, Some(18.0)),
        ("date,clock,\"air, °C\"\n2026-04-13,10:20 am,18\n", ClimatePart::Air, Some(18.0)),
        ("time (local),Temp in C\n2026/04/13 10.20,18.0\n", ClimatePart::Air, Some(18.0)),
    ];
    for (text, part, air) in sound {
        let (climate, told) = read(text);
        assert!(told.iter().all(|line| line.contains("decimal-comma advice")), "{text}: {told:?}");
        assert_eq!(climate.parts, [part], "{text}");
        assert_eq!(climate.rows.len(), 1, "{text}");
        let row = climate.rows[0];
        assert_eq!(row.at, date(2026, 4, 13).at(10, 20, 0, 0), "{text}");
        let near = row.met.air_deg_c.zip(air).is_some_and(|(read, meant)| (read - meant).abs() < 1e-9);
        assert!(near, "{text}: {row:?}");
    }
}

#[test]
fn the_sun_is_a_power_a_dose_or_a_time_as_its_unit_says() {
    let of = |unit: &str, value: &str| {
        let text = format!("time,sun {unit}\n2026-04-13 10:00,{value}\n2026-04-13 11:00,{value}\n");
        let (climate, told) = read(&text);
        assert!(told.is_empty(), "{unit}: {told:?}");
        let row = climate.rows[0];
        (row.sun_j_per_m2.map(|joules| joules / 1e6), row.sunshine_s)
    };
    // 500 W/m2 over one hour are 0.5 kWh/m2, which are 1.8 MJ/m2.
    assert_eq!(of("W/m2", "500"), (Some(1.8), None));
    assert_eq!(of("kWh/m2", "0.5"), (Some(1.8), None));
    assert_eq!(of("Wh/m²", "500"), (Some(1.8), None));
    assert_eq!(of("kJ/m2", "1800"), (Some(1.8), None));
    assert_eq!(of("J/m2", "1800000"), (Some(1.8), None));
    assert_eq!(of("h", "0.5"), (None, Some(1800.0)));
    assert_eq!(of("min", "30"), (None, Some(1800.0)));
}

#[test]
fn wet_is_a_mark_or_a_time_and_nothing_else() {
    let (climate, told) = read("time,wet\n2026-04-13 10:00,1\n2026-04-13 10:10,0\n2026-04-13 10:20,\n");
    assert!(told.is_empty(), "{told:?}");
    let wet: Vec<Option<f64>> = climate.rows.iter().map(|row| row.wet_s).collect();
    assert_eq!(wet, [Some(600.0), Some(0.0), None]);
    let (climate, told) = read("time,wet min\n2026-04-13 10:00,7.5\n2026-04-13 10:10,12\n");
    assert_eq!(told, ["3 value-out-of-range [12]"]);
    assert_eq!(climate.rows.iter().map(|row| row.wet_s).collect::<Vec<_>>(), [Some(450.0), None]);
    assert_eq!(climate.state.refused, 1);
    assert_eq!(message("time,wet\n2026-04-13 10:00,10\n"), "`10` is neither 1 nor 0");
}

#[test]
fn a_unit_that_is_not_said_is_asked_about() {
    for (heading, words) in [
        ("air", "degC or degF"),
        ("surface temperature", "degC or degF"),
        ("sun", "W/m2, J/m2 of each row, or hours of sunshine"),
    ] {
        let text = format!("time,{heading}\n2026-04-13 10:00,18\n");
        assert_eq!(message(&text), format!("`{heading}` does not say whether it is in {words}"));
    }
    assert_eq!(message("time,air K\n2026-04-13 10:00,291\n"), "`K` is no unit of this column: degC or degF");
    assert_eq!(message("time (UTC),air C\n2026-04-13 10:00,18\n"), "it is not known which clock `UTC` is");
}

#[test]
fn the_study_may_say_what_a_column_is() {
    let column = |heading: &str, word: &str, unit: Option<&str>| ClimateColumn {
        heading: study::at(heading.into()),
        word: study::at(word.into()),
        unit: unit.map(str::to_owned),
    };
    let own = with(|file| file.columns = vec![column("T1", "air", Some("degF")), column("W", "wet", None)]);
    let (climate, findings) = read_with(&own, "time,T1,W\n2026-04-13 10:00,68,1\n", None);
    assert!(findings.is_empty(), "{findings:#?}");
    assert!(climate.rows[0].met.air_deg_c.is_some_and(|air| (air - 20.0).abs() < 1e-9));
    let wrong =
        with(|file| file.columns = vec![column("T2", "air", Some("degC")), column("T1", "heat", None)]);
    let (_, findings) = read_with(&wrong, "time,T1,air degC\n2026-04-13 10:00,68,20\n", None);
    let messages: Vec<&str> = findings.iter().map(|one| one.message.as_str()).collect();
    assert_eq!(
        messages,
        [
            "`heat` is not a column that a climate file has",
            "`yard.csv` has no column `T2`",
            "the column `T1` is not used",
        ]
    );
}

#[test]
fn every_bad_row_is_told_with_its_line_and_costs_nothing_else() {
    let text = "time,air degC,humidity %,note\n\
                2026-04-13 10:00,18,60,\n\
                04/03/2026 10:10,18,60,\n\
                2026-04-13 25:00,18,60,\n\
                2026-04-13 10:30Z,18,60,\n\
                ,18,60,\n\
                2026-04-13 10:50,warm,60,\n\
                2026-04-13 11:00,180,60,\n\
                2026-04-13 11:10,18,104,\n\
                2026-04-13 11:20,18,60,fine,5\n\
                2026-04-13 11:30,18,-,\"dry\n\
                2026-04-13 11:40,,61,\n\
                2026-04-13 11:40,19,61,\n";
    let (climate, told) = read(text);
    assert_eq!(
        told,
        [
            "3 date-two-ways [04/03/2026 10:10]",
            "4 bad-time warning[2026-04-13 25:00]",
            "5 climate-unit [2026-04-13 10:30Z]",
            "6 bad-date []",
            "7 not-a-number [warm]",
            "8 value-out-of-range [180]",
            "9 value-out-of-range [104]",
            "10 row-too-long [5]",
            "11 unclosed-quote [\"]",
            "13 climate-row-twice warning[2026-04-13 11:40]",
        ]
    );
    assert_eq!((climate.state.rows, climate.state.refused), (12, 10));
    // The good values of a row that has a bad one are kept, and what is blank stays missing.
    let kept: Vec<_> = climate.rows.iter().map(|row| (row.met.air_deg_c, row.met.humidity_percent)).collect();
    assert_eq!(
        kept,
        [
            (Some(18.0), Some(60.0)),
            (None, Some(60.0)),
            (None, Some(60.0)),
            (Some(18.0), None),
            (None, Some(61.0)),
        ]
    );
}

#[test]
fn files_that_are_none_and_headers_without_columns_are_told() {
    let codes = |text: &str| {
        read(text).1.iter().map(|line| line.split(' ').nth(1).unwrap().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(codes(""), ["readings-empty"]);
    assert_eq!(codes("PK\u{3}\u{4}"), ["workbook"]);
    assert_eq!(codes("2026-04-13 10:00,18,60\n"), ["header-not-known"]);
    assert_eq!(codes("air degC,humidity %\n18,60\n"), ["column-missing"]);
    assert_eq!(codes("time,note\n2026-04-13 10:00,fine\n"), ["column-missing"]);
    assert_eq!(codes("time,air degC,temperature degC\n2026-04-13 10:00,18,18\n"), ["column-twice"]);
    assert_eq!(codes("time,air degC,windspeed\n2026-04-13 10:00,18,3\n"), ["extra-columns"]);
}

#[test]
fn a_row_stands_up_to_the_next_and_a_late_one_leaves_a_gap() {
    let text = "time,air degC\n\
                2026-04-13 11:00,3\n\
                2026-04-13 10:00,1\n\
                2026-04-13 10:30,2\n\
                2026-04-13 11:40,4\n\
                2026-04-13 14:00,5\n";
    let (climate, told) = read(text);
    assert!(told.is_empty(), "{told:?}");
    let spans: Vec<f64> = climate.rows.iter().map(|row| row.span_s / 60.0).collect();
    // Rows are usually 30 min apart. 40 min is not late by half of that; 140 min is, and the last has no next.
    assert_eq!((climate.step_s, spans), (1800.0, vec![30.0, 30.0, 40.0, 30.0, 30.0]));
    let at =
        |hour, minute| climate.at(date(2026, 4, 13).at(hour, minute, 0, 0)).and_then(|row| row.met.air_deg_c);
    assert_eq!(
        [at(9, 59), at(10, 0), at(10, 59), at(11, 39), at(12, 9), at(12, 10), at(14, 29), at(14, 30)],
        [None, Some(1.0), Some(2.0), Some(3.0), Some(4.0), None, Some(5.0), None]
    );
}

#[test]
fn the_time_of_a_row_may_be_said_and_long_rows_tell_nothing_of_an_hour() {
    let daily = "date,sun MJ/m2\n2026-04-13,12\n2026-04-14,15\n";
    let (climate, told) = read(daily);
    assert!(told.is_empty(), "{told:?}");
    assert_eq!(climate.rows.iter().map(|row| row.span_s).collect::<Vec<_>>(), [86_400.0, 86_400.0]);
    assert_eq!(climate.at(date(2026, 4, 13).at(10, 0, 0, 0)), None);
    let hour = AnyQuantity { value: 1.0, unit: unit("h").unwrap() }.typed();
    let own = with(|file| file.each_row = hour);
    let (climate, _) = read_with(&own, "time,wet\n2026-04-13 10:00,1\n", None);
    assert_eq!((climate.step_s, climate.rows[0].wet_s), (3600.0, Some(3600.0)));
}

#[test]
fn as_of_an_earlier_day_later_rows_are_passed_over_with_their_faults() {
    let text = "time,air degC\n2026-04-13 23:59,18\n2026-04-14 00:00,warm\n";
    let (climate, findings) = read_with(&with(|_| {}), text, Some(date(2026, 4, 13)));
    assert!(findings.is_empty(), "{findings:#?}");
    assert_eq!((climate.rows.len(), climate.state.later, climate.state.refused), (1, 1, 0));
}
