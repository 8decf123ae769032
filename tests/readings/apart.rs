//! Readings that no section carries: of the gauge's tile at a round, of the panel in its preparation.

use super::{read_bytes, study, told};
use tapeline::readings::{Apart, Readings};
use tapeline::study::{MeasureId, RoundId, Step, Study, Verb};
use tapeline::text::Span;

/// A `read` step of the preparation.
fn reads(measure: usize) -> Step {
    Step {
        verb: Verb::Read,
        with: None,
        measure: Some(study::at(MeasureId::new(measure))),
        mix: None,
        grit: None,
        dwell: None,
        rinse: false,
        tool: None,
        times: 1,
        fresh_cloth: false,
        wait: None,
        places: Some(3),
        line_width: None,
        only: None,
        span: Span::default(),
        prose: String::new(),
        broken: false,
    }
}

/// The study by hand, whose preparation reads film, gloss and film again.
fn prepared() -> Study {
    Study { prep: vec![reads(1), reads(0), reads(1)], ..study::study() }
}

fn values(readings: &Readings, place: usize) -> Vec<(u32, f64)> {
    let all = readings.of_apart(&readings.apart()[place]);
    all.filter_map(|reading| Some((reading.number, reading.value.number()?))).collect()
}

#[test]
fn tiles_and_the_panel_are_kept_apart_from_sections() {
    let text = "date,round,section,measure,unit,by,1,2,3\n\
                2026-03-02,prep 1,panel,film,um,K. M.,118,121,\n\
                2026-03-02,Prep 3,Panel,film,um,K. M.,115,,114\n\
                2026-03-03,baseline,tile,gloss-20,GU,K. M.,91.2,91.4\n\
                2026-03-03,baseline,A1,gloss-20,GU,K. M.,88.2,88.4,88.3\n";
    let (readings, findings) = read_bytes(&prepared(), text.as_bytes());
    assert!(findings.is_empty(), "{findings:?}");
    assert_eq!((readings.cells().len(), readings.len()), (1, 9));
    let at: Vec<Apart> = readings.apart().iter().map(|apart| apart.at).collect();
    assert_eq!(at, [Apart::Tile(RoundId::new(0)), Apart::Prep(0), Apart::Prep(2)]);
    assert_eq!(values(&readings, 0), [(1, 91.2), (2, 91.4)]);
    assert_eq!(values(&readings, 2), [(1, 115.0), (3, 114.0)]);
    assert_eq!(readings.apart()[1].numbers().mean(), Some(119.5));
}

#[test]
fn readings_without_a_number_are_places_in_their_order() {
    let text = "date,round,section,measure,value\n2026-03-02,prep 1,panel,film,118\n2026-03-02,prep 1,panel,film,121\n";
    let (readings, findings) = read_bytes(&prepared(), text.as_bytes());
    assert!(findings.is_empty(), "{findings:?}");
    assert_eq!(values(&readings, 0), [(1, 118.0), (2, 121.0)]);
}

#[test]
fn places_and_rounds_that_do_not_go_together_are_told() {
    let text = "date,round,section,measure,value\n\
                2026-03-02,baseline,panel,film,118\n\
                2026-03-02,prep 1,A1,film,118\n\
                2026-03-02,prep 1,tile,film,118\n\
                2026-03-02,prep 2,panel,film,118\n\
                2026-03-02,prep 4,panel,film,118\n";
    let (readings, findings) = read_bytes(&prepared(), text.as_bytes());
    assert_eq!(
        told(text, &findings),
        [
            "2 not-on-a-section [panel]",
            "3 not-on-a-section [A1]",
            "4 not-on-a-section [tile]",
            "5 not-on-a-section [prep 2]",
            "6 unknown-round [prep 4]",
        ]
    );
    assert_eq!((readings.len(), readings.files[0].refused), (0, 5));
    let help = findings[3].help.join(" ");
    assert!(help.contains("`prep 1` and `prep 3`"), "{help}");
}

#[test]
fn a_section_that_is_called_tile_is_a_section() {
    let mut own = prepared();
    own.sections[0].code = "tile".into();
    let text = "date,round,section,measure,value\n2026-03-03,baseline,tile,gloss-20,88.2\n";
    let (readings, findings) = read_bytes(&own, text.as_bytes());
    assert!(findings.is_empty() && readings.apart().is_empty() && readings.cells().len() == 1);
}
