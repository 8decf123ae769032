//! A small study made by hand: sections A1 to A4 and B1 to B4, three rounds, gloss and film.

use tapeline::catalog::{Direction, Reference};
use tapeline::study::{
    Agreement, Gauge, LeaveOut, Measure, MeasureId, MeasureKind, MeasureUnit, Placing, ProductId, ReadPlan,
    ReadingsFile, Round, RoundId, Section, SectionId, Study, Treatment,
};
use tapeline::text::{Located, Span};
use tapeline::units::{AnyQuantity, unit};

/// A name without a place.
pub(crate) fn at<T>(value: T) -> Located<T> {
    Located::new(value, Span::default())
}

/// A measure in a unit of the table.
pub(crate) fn measure(name: &str, symbol: &str, possible: (f64, f64)) -> Measure {
    Measure {
        kind: MeasureKind::Read,
        home: None,
        of: None,
        name: at(name.into()),
        unit: MeasureUnit { symbol: symbol.into(), known: unit(symbol) },
        direction: Direction::Higher,
        alike: None,
        seen: None,
        spent: None,
        change_from: Reference::Fresh,
        change_stated: false,
        adjust_for_baseline: false,
        possible: Some(possible),
        broken: false,
    }
}

/// A section of a code.
pub(crate) fn section(code: &str, treatment: Treatment) -> Section {
    Section {
        code: code.into(),
        treatment,
        specimen: None,
        site: None,
        row: None,
        column: None,
        outline: None,
        span: Span::default(),
    }
}

/// A round that reads every measure so many times.
pub(crate) fn round(name: &str, measures: usize, times: u32) -> Round {
    let plan = |measure| ReadPlan { measure: at(MeasureId::new(measure)), times };
    Round {
        name: at(name.into()),
        placing: Placing::Unplaced,
        window: None,
        at_sites: Vec::new(),
        within: None,
        reads: (0..measures).map(plan).collect(),
        span: Span::default(),
    }
}

/// A gauge whose two readings agree within a limit in GU or um.
pub(crate) fn gauge(name: &str, measure: usize, limit: f64, symbol: &str) -> Gauge {
    let agreement = unit(symbol).map(|unit| at(Agreement::TwoReadings(AnyQuantity { value: limit, unit })));
    Gauge {
        name: at(name.into()),
        label: None,
        reads: vec![at(MeasureId::new(measure))],
        spot: None,
        foot: None,
        agreement,
        tile: None,
        certificates: Vec::new(),
        never_certified: None,
        cost: None,
        broken: false,
    }
}

/// A file of readings of a name.
pub(crate) fn file(name: &str) -> ReadingsFile {
    ReadingsFile {
        name: at(name.into()),
        home: None,
        site: None,
        columns: Vec::new(),
        leave_out: Vec::new(),
        broken: false,
    }
}

/// The study of these tests.
pub(crate) fn study() -> Study {
    let treatment = |place: usize| match place % 4 {
        3 => Treatment::Bare,
        product => Treatment::Product(ProductId::new(product)),
    };
    let code = |place: usize| format!("{}{}", ['A', 'B'][place / 4], place % 4 + 1);
    Study {
        measures: vec![measure("gloss-20", "GU", (0.0, 2000.0)), measure("film", "um", (0.0, 10_000.0))],
        sections: (0..8).map(|place| section(&code(place), treatment(place))).collect(),
        products: ["bay", "clove", "cumin"].into_iter().map(product).collect(),
        rounds: vec![round("baseline", 2, 3), round("fresh", 2, 3), round("month 6", 2, 3)],
        readings: vec![file("readings.csv")],
        ..Study::default()
    }
}

fn product(name: &str) -> tapeline::study::Product {
    tapeline::study::Product {
        name: at(name.into()),
        label: None,
        kind: None,
        price: None,
        disclosure: None,
        batch: None,
        uses: None,
        density: None,
        coats: None,
        flash: None,
        unwiped: false,
        dry: None,
        cure: None,
        mix: None,
        keeps: None,
        sheet: None,
        stated: None,
        packed: None,
        tool: None,
        category: None,
        climate: tapeline::study::ApplyClimate::default(),
        unread: Vec::new(),
        broken: false,
    }
}

/// A statement that leaves out gloss of A1 at month 6.
pub(crate) fn leave_out(reading: Option<u32>, value: Option<f64>) -> LeaveOut {
    LeaveOut {
        measure: MeasureId::new(0),
        section: SectionId::new(0),
        round: RoundId::new(2),
        reading,
        value,
        because: "the foot slipped".into(),
        span: Span::new(100, 120),
    }
}
