//! Hours wet, hours above a temperature and the dose of the sun, worked by hand in the comments.

use tapeline::analysis::{ClimateStretch, ClimateSum, SiteClimate, StretchEnd, WetBy, analyse};
use tapeline::diag::has_errors;
use tapeline::pipeline::{self, Day, Outcome};
use tapeline::study::RoundId;

const STUDY: &str = r#"study "Weather"
    begins 2026-03-02
surface door
    size 900 x 600 mm
product bay
measure gloss-20 in GU
    higher is better
map sections 100 x 100 mm gap 20 mm from left 30 mm, top 30 mm
    | bay bare |
apply
    on 2026-03-03 from 09:00
rounds
    baseline on 2026-03-02 gloss-20 once
    first    on 2026-03-07 gloss-20 once
    second   on 2026-03-09 gloss-20 once
readings "rows.csv"
climate "yard.csv"
    hours air above 20 degC
    hours surface above 68 degF
"#;

const EXPOSURE: &str = "exposure \"Yard\"\n    put out 2026-03-05\n";

const ROWS: &str = "date,round,section,measure,1\n\
    2026-03-02,baseline,A1,gloss-20,80\n2026-03-02,baseline,A2,gloss-20,80\n\
    2026-03-07,first,A1,gloss-20,79\n2026-03-07,first,A2,gloss-20,78\n\
    2026-03-09,second,A1,gloss-20,78\n2026-03-09,second,A2,gloss-20,76\n";

fn outcome(piece: &str, yard: &str) -> Outcome {
    let files = [("rows.csv".to_owned(), ROWS.into()), ("yard.csv".to_owned(), yard.into())];
    let day = Day::AsOf("2026-05-01".parse().unwrap());
    let outcome = pipeline::check("weather.study", &format!("{STUDY}{piece}"), &files, day);
    assert!(!has_errors(&outcome.findings), "{:#?}", outcome.findings);
    outcome
}

fn climate(piece: &str, yard: &str) -> SiteClimate {
    let outcome = outcome(piece, yard);
    let mut all = analyse(&outcome.study, &outcome.readings, outcome.day.as_of()).climate;
    assert_eq!(all.len(), 1);
    all.remove(0)
}

fn days(stretch: &ClimateStretch) -> (StretchEnd, StretchEnd, String, String) {
    (stretch.from, stretch.to, stretch.first.to_string(), stretch.last.to_string())
}

fn sum(found: Option<ClimateSum>, value: f64, missing_h: f64) {
    let found = found.expect("the file tells it");
    assert!((found.value - value).abs() < 1e-9, "{found:?} is not {value}");
    assert!((found.missing_h - missing_h).abs() < 1e-9, "{found:?} does not miss {missing_h} h");
}

/// Four rows a day, each for 6 h. The row of 2026-03-06 12:00 is not there, and two fields of 2026-03-08 are blank.
const YARD: &str = "time,air degC,surface degC,wet min,sun W/m2\n\
    2026-03-04 12:00,30,40,360,900\n\
    2026-03-05 00:00,10,8,120,0\n\
    2026-03-05 06:00,14,16,0,200\n\
    2026-03-05 12:00,21,26,0,500\n\
    2026-03-05 18:00,15,14,0,50\n\
    2026-03-06 00:00,11,9,300,0\n\
    2026-03-06 06:00,16,20,15,250\n\
    2026-03-06 18:00,17,16,0,40\n\
    2026-03-07 00:00,12,11,360,0\n\
    2026-03-07 06:00,18,20.5,0,300\n\
    2026-03-07 12:00,24,33,0,600\n\
    2026-03-07 18:00,16,15,0,60\n\
    2026-03-08 00:00,13,12,,0\n\
    2026-03-08 06:00,19,19,0,\n\
    2026-03-08 12:00,20,31,0,700\n\
    2026-03-08 18:00,15,14,30,20\n\
    2026-03-09 00:00,12,11,360,0\n";

#[test]
fn hours_and_doses_are_summed_from_round_to_round() {
    let found = climate(EXPOSURE, YARD);
    assert_eq!((found.step_s, found.wet_by), (21_600.0, Some(WetBy::Column)));
    let [first, second] = found.stretches.as_slice() else { panic!("{:#?}", found.stretches) };
    let (one, two) = (StretchEnd::Round(RoundId::new(1)), StretchEnd::Round(RoundId::new(2)));
    assert_eq!(days(first), (StretchEnd::PutOut, one, "2026-03-05".into(), "2026-03-07".into()));
    assert_eq!(days(second), (one, two, "2026-03-07".into(), "2026-03-09".into()));

    // From 5 to 7 March: 48 h, of which one row of 6 h is not there.
    assert_eq!((first.hours, first.without_row_h), (48.0, 6.0));
    // 120 + 300 + 15 min are 7.25 h.
    sum(first.wet, 7.25, 6.0);
    // Air above 20 degC: the row of 21 only. Surface above 68 degF, which is 20 degC: that of 26, not that of 20.
    sum(Some(first.above[0]), 6.0, 6.0);
    sum(Some(first.above[1]), 6.0, 6.0);
    // (200 + 500 + 50 + 250 + 40) W/m2 times 21600 s are 22.464 MJ/m2.
    sum(first.sun_mj_per_m2, 22.464, 6.0);
    // (10 + 14 + 21 + 15 + 11 + 16 + 17) / 7.
    assert!(first.air_mean_deg_c.is_some_and(|mean| (mean - 104.0 / 7.0).abs() < 1e-9));
    assert_eq!(first.air_range_deg_c, Some((10.0, 21.0)));
    assert_eq!((first.humidity_mean_percent, first.sunshine), (None, None));

    // From 7 to 9 March: every row is there. One field of wet and one of the sun are blank, of 6 h each.
    assert_eq!((second.hours, second.without_row_h), (48.0, 0.0));
    sum(second.wet, 6.5, 6.0);
    sum(Some(second.above[0]), 6.0, 0.0);
    sum(Some(second.above[1]), 18.0, 0.0);
    // (300 + 600 + 60 + 700 + 20) W/m2 times 21600 s.
    sum(second.sun_mj_per_m2, 36.288, 6.0);

    let whole = found.whole.expect("there are two stretches");
    assert_eq!(days(&whole), (StretchEnd::PutOut, two, "2026-03-05".into(), "2026-03-09".into()));
    sum(whole.wet, 13.75, 12.0);
    sum(whole.sun_mj_per_m2, 58.752, 12.0);
    assert_eq!((whole.hours, whole.without_row_h), (96.0, 6.0));
}

#[test]
fn time_counts_from_the_application_where_nothing_is_put_out_and_ends_when_it_is_brought_in() {
    let found = climate("", YARD);
    let ends: Vec<_> = found.stretches.iter().map(|one| (one.from, one.first.to_string())).collect();
    assert_eq!(ends[0], (StretchEnd::Apply, "2026-03-03".into()));
    // 96 h, of which the file has 6 h of 4 March, 24 h of the 5th and 18 h of the 6th.
    assert_eq!((found.stretches[0].hours, found.stretches[0].without_row_h), (96.0, 48.0));
    let found = climate(&format!("{EXPOSURE}    brought in 2026-03-08\n"), YARD);
    let last = found.stretches.last().unwrap();
    assert_eq!(
        (last.to, last.last.to_string(), last.hours),
        (StretchEnd::BroughtIn, "2026-03-08".into(), 24.0)
    );
    sum(last.sun_mj_per_m2, (300.0 + 600.0 + 60.0) * 0.0216, 0.0);
}

/// Air of 20 degC has its dew point at 9.3 degC with 50 % and at 16.4 degC with 80 % (tables with ISO 8502-4).
#[test]
fn without_a_column_hours_wet_are_those_of_a_surface_at_or_below_the_dew_point() {
    let yard = "time,air degC,humidity %,surface degC\n\
        2026-03-05 00:00,20,50,9.2\n\
        2026-03-05 12:00,20,50,9.4\n\
        2026-03-06 00:00,20,80,16.3\n\
        2026-03-06 12:00,20,80,16.5\n\
        2026-03-07 00:00,20,80,16.3\n\
        2026-03-07 12:00,20,,16.3\n\
        2026-03-08 00:00,20,50,16.3\n\
        2026-03-08 12:00,20,80,\n";
    let found = climate(EXPOSURE, yard);
    assert_eq!(found.wet_by, Some(WetBy::DewPoint));
    sum(found.stretches[0].wet, 24.0, 0.0);
    // Of the last two days one row lacks the humidity and one the surface.
    sum(found.stretches[1].wet, 12.0, 24.0);
    let without =
        climate(EXPOSURE, "time,air degC,humidity %\n2026-03-05 00:00,20,50\n2026-03-05 12:00,20,50\n");
    assert_eq!((without.wet_by, without.stretches[0].wet), (None, None));
}

#[test]
fn a_coat_meets_the_row_of_its_hour_and_its_record_counts_first() {
    let yard = "time,air degC,humidity %,surface degC\n\
        2026-03-03 08:00,18,60,17\n\
        2026-03-03 09:00,20,80,19\n\
        2026-03-03 10:00,22,50,24\n";
    let hours = |piece: &str| {
        let outcome = outcome(piece, yard);
        outcome.readings.coat_hours(&outcome.study)
    };
    let [planned] = hours("")[..] else { panic!("one hour") };
    assert_eq!((planned.coat, planned.known().air_deg_c), (None, Some(20.0)));
    // 19 degC less 16.4 degC, to a tenth.
    assert!(planned.known().above_dew_point_deg_c().is_some_and(|above| (above - 2.6).abs() < 0.05));
    let coats = hours(
        "done 2026-03-03 08:59  coat 1 of bay\ndone 2026-03-03 10:59  coat 2 of bay  at 21 degC, 52 % humidity\n\
         done 2026-03-03 11:00  coat 3 of bay\ndone 2026-03-03  coat 4 of bay\n",
    );
    let known: Vec<_> =
        coats.iter().map(|hour| (hour.known().air_deg_c, hour.known().surface_deg_c)).collect();
    assert_eq!(known, [(Some(18.0), Some(17.0)), (Some(21.0), Some(24.0)), (None, None), (None, None)]);
    assert_eq!(coats[1].in_file.map(|file| file.air_deg_c), Some(Some(22.0)));
    assert_eq!((coats[2].in_file, coats[3].at), (None, None));
}
