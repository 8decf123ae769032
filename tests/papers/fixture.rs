//! A study made by hand, invented from end to end, for looking at pages without a parser.

use jiff::civil::date;
use tapeline::catalog::{Catalog, Direction, Reference};
use tapeline::study::*;
use tapeline::text::{Located, Span};
use tapeline::units::{AnyQuantity, Length, Quantity, Range, Time, unit};

pub(crate) fn at<T>(value: T) -> Located<T> {
    Located::new(value, Span::default())
}

pub(crate) fn any(value: f64, symbol: &str) -> AnyQuantity {
    AnyQuantity { value, unit: unit(symbol).unwrap() }
}

pub(crate) fn mm(value: f64) -> Quantity<Length> {
    Quantity::from_mm(value)
}

pub(crate) fn time(value: f64, symbol: &str) -> Quantity<Time> {
    any(value, symbol).typed().unwrap()
}

fn range(low: f64, high: f64, symbol: &str) -> Option<Located<Range<Time>>> {
    Some(at(Range { low: time(low, symbol), high: time(high, symbol) }))
}

pub(crate) fn kind(words: &str) -> Option<KindOf> {
    Some(KindOf { words: at(words.to_owned()), class: Catalog::built_in().class(words) })
}

pub(crate) fn supply(name: &str, words: Option<&str>) -> Supply {
    Supply {
        name: at(name.to_owned()),
        kind: words.and_then(kind),
        mix: None,
        dwell: None,
        strength: None,
        sheet: None,
        batch: None,
        leaves_oils: false,
        broken: false,
    }
}

pub(crate) fn step(verb: Verb) -> Step {
    Step {
        verb,
        with: None,
        with_unknown: false,
        measure: None,
        mix: None,
        dwell: None,
        rinse: false,
        tool: None,
        times: 1,
        fresh_cloth: false,
        wait: None,
        places: None,
        line_width: None,
        span: Span::default(),
        prose: String::new(),
    }
}

fn with(verb: Verb, supply: usize) -> Step {
    Step { with: Some(at(SupplyId::new(supply))), ..step(verb) }
}

const NAMES: [(&str, &str, &str); 12] = [
    ("quartz", "Quartz coat 9", "a silica coating"),
    ("amber", "Amber wax", "a wax"),
    ("basalt", "Basalt shield", "a silica coating"),
    ("coral", "Coral spray", "a spray sealant"),
    ("dune", "Dune hard coat", "a silica coating"),
    ("ember", "Ember polymer", "a polymer sealant"),
    ("fjord", "Fjord seal", "a spray sealant"),
    ("garnet", "Garnet two part", "an isocyanate coating"),
    ("heath", "Heath paste", "a wax"),
    ("iris", "Iris quick", "a spray sealant"),
    ("jade", "Jade coat", "a silica coating"),
    ("kelp", "Kelp thing <b>", "a house blend"),
];

fn products() -> Vec<Product> {
    let one = |(index, &(name, label, words)): (usize, &(&str, &str, &str))| Product {
        name: at(name.to_owned()),
        label: Some(label.to_owned()),
        kind: kind(words.trim_start_matches("an ").trim_start_matches("a ")),
        price: Some(Price {
            money: any(18.0 + 7.5 * index as f64, "EUR").typed().unwrap(),
            amount: any(50.0, "ml"),
        }),
        disclosure: Some(if index == 3 { Disclosure::Given } else { Disclosure::Bought }),
        batch: (index % 3 != 2)
            .then(|| Opening { batch: format!("L-{}", 310 + index), opened: Some(date(2025, 4, 3)) }),
        uses: Some(any(18.0, "ml per m2")),
        coats: Some(Coats {
            number: if index % 4 == 0 { 2 } else { 1 },
            after: (index % 4 == 0).then(|| Range { low: time(1.0, "h"), high: time(3.0, "h") }),
            span: Span::default(),
        }),
        flash: range(2.0, 4.0, "min"),
        dry: Some(at(time(12.0, "h"))),
        cure: Some(at(time(7.0, "days"))),
        mix: Some(at(Mix::Neat)),
        sheet: (index != 11)
            .then(|| Sheet { name: format!("{name}-sds.pdf"), dated: Some(date(2025, 1, 15)) }),
        category: None,
        broken: false,
    };
    NAMES.iter().enumerate().map(one).collect()
}

fn supplies() -> Vec<Supply> {
    let mut wash = supply("panel-soap", Some("neutral shampoo"));
    wash.mix = Some(at(Mix::Parts { of: 1.0, to: 250.0, liquid: "water".into() }));
    let mut iron = supply("rust-gel", Some("iron remover"));
    iron.mix = Some(at(Mix::Neat));
    iron.dwell = range(3.0, 5.0, "min");
    let mut bleach = supply("mould-off", Some("hypochlorite"));
    bleach.sheet = Some(Sheet { name: "mould-off.pdf".into(), dated: None });
    let mut alcohol = supply("isopropanol", Some("isopropanol"));
    alcohol.strength = Some(any(99.0, "% by volume"));
    vec![
        wash,
        iron,
        supply("clay-mist", Some("clay lubricant")),
        supply("cut-one", Some("compound")),
        supply("cut-two", Some("polish")),
        alcohol,
        bleach,
    ]
}

fn prep() -> Vec<Step> {
    vec![
        Step { rinse: true, ..with(Verb::Wash, 6) },
        Step { rinse: true, ..with(Verb::Wash, 0) },
        Step { dwell: range(4.0, 4.0, "min"), rinse: true, ..with(Verb::Decontaminate, 1) },
        step(Verb::Dry),
        Step { measure: Some(at(MeasureId::new(1))), places: Some(9), ..step(Verb::Read) },
        Step { rinse: true, ..with(Verb::Clay, 2) },
        Step { tool: Some("15 mm orbit, microfibre pad".into()), ..with(Verb::Compound, 3) },
        Step {
            tool: Some("15 mm orbit, foam pad".into()),
            prose: "Two passes, **no pressure**.".into(),
            ..with(Verb::Polish, 4)
        },
        Step {
            mix: Some(at(Mix::Percent(any(35.0, "% by volume")))),
            times: 2,
            fresh_cloth: true,
            wait: Some(time(5.0, "min")),
            ..with(Verb::Wipe, 5)
        },
        Step { line_width: Some(at(mm(6.0))), ..step(Verb::Tape) },
        step(Verb::Label),
    ]
}

fn measures() -> Vec<Measure> {
    let gloss = Measure {
        name: at("gloss-20".into()),
        unit: MeasureUnit { symbol: "GU".into(), known: unit("GU") },
        direction: Direction::Higher,
        alike: Some(at(2.0)),
        seen: Some(at(5.0)),
        spent: Some(SpentRule {
            below: true,
            limit: Limit::PercentOf(80.0, Reference::Fresh),
            span: Span::default(),
        }),
        change_from: Reference::Fresh,
        possible: Some((0.0, 200.0)),
        broken: false,
    };
    let film = Measure {
        name: at("film".into()),
        unit: MeasureUnit { symbol: "um".into(), known: unit("um") },
        direction: Direction::Neither,
        alike: Some(at(3.0)),
        seen: None,
        spent: None,
        change_from: Reference::Baseline,
        ..gloss.clone()
    };
    vec![gloss, film]
}

// Thirty places in five rows of six: each product twice, apart, and six bare.
const MAP: [[usize; 6]; 5] = [
    [0, 1, 99, 2, 3, 4],
    [5, 6, 7, 99, 8, 9],
    [10, 99, 11, 0, 2, 1],
    [3, 5, 4, 7, 99, 6],
    [99, 9, 8, 11, 10, 99],
];

fn sections() -> Vec<Section> {
    let place = |row: usize, column: usize, what: usize| Section {
        code: format!("{}{}", char::from(b'A' + u8::try_from(row).unwrap()), column + 1),
        treatment: if what == 99 { Treatment::Bare } else { Treatment::Product(ProductId::new(what)) },
        row: Some(row),
        column: Some(column),
        outline: Some(Outline::Rectangle {
            at: Point { x: 40.0 + 184.0 * column as f64, y: 40.0 + 134.0 * row as f64 },
            width: 170.0,
            height: 120.0,
        }),
        span: Span::default(),
    };
    let rows = MAP.iter().enumerate();
    rows.flat_map(|(row, line)| line.iter().enumerate().map(move |(column, &what)| place(row, column, what)))
        .collect()
}

pub(crate) const ROUNDS: [(&str, i64); 9] = [
    ("baseline", -2),
    ("fresh", 8),
    ("week 4", 28),
    ("month 2", 61),
    ("month 4", 122),
    ("month 6", 183),
    ("month 9", 275),
    ("month 12", 365),
    ("month 18", 549),
];

fn rounds() -> Vec<Round> {
    let apply = date(2025, 4, 7);
    let one = |&(name, days): &(&str, i64)| {
        let day = apply.checked_add(jiff::Span::new().days(days)).unwrap();
        let reads = vec![
            ReadPlan { measure: at(MeasureId::new(0)), times: 5 },
            ReadPlan { measure: at(MeasureId::new(1)), times: 3 },
        ];
        Round {
            name: at(name.to_owned()),
            placing: Placing::On,
            window: Some(Window { date: day, first: day, last: day }),
            within: Some(time(1.0, "weeks")),
            reads,
            span: Span::default(),
        }
    };
    ROUNDS.iter().map(one).collect()
}

fn area(name: &str, outline: Outline, because: &str) -> Area {
    Area { name: at(name.to_owned()), outline, because: Some(because.to_owned()), span: Span::default() }
}

fn surface() -> Surface {
    Surface {
        name: at("locker lid".into()),
        material: Some(at("clearcoat on aluminium, grey".into())),
        outline: Some(at(Outline::Rectangle { at: Point { x: 0.0, y: 0.0 }, width: 1260.0, height: 760.0 })),
        width: Some(mm(1260.0)),
        height: Some(mm(760.0)),
        origin: Some("top left, seen from outside".into()),
        film: Some(Range { low: any(95.0, "um").typed().unwrap(), high: any(140.0, "um").typed().unwrap() }),
        leave: any(90.0, "um").typed(),
        avoid: vec![
            area(
                "latch",
                Outline::Rectangle { at: Point { x: 1150.0, y: 300.0 }, width: 100.0, height: 150.0 },
                "recess",
            ),
            area("dent", Outline::Circle { centre: Point { x: 1190.0, y: 80.0 }, across: 40.0 }, "filled"),
        ],
        curved: vec![area(
            "rolled edge",
            Outline::Rectangle { at: Point { x: 0.0, y: 722.0 }, width: 1260.0, height: 38.0 },
            "gauge rocks",
        )],
        ..Surface::default()
    }
}

pub(crate) fn study() -> Study {
    let gauge = Gauge {
        name: at("gloss-head".into()),
        reads: vec![at(MeasureId::new(0))],
        spot: Some((mm(10.0), mm(10.0))),
        foot: Some((mm(110.0), mm(45.0))),
        agreement: Some(at(Agreement::TwoReadings(any(0.4, "GU")))),
        tile: Some(any(92.6, "GU")),
        certificates: vec![Certificate {
            from: date(2025, 2, 20),
            until: date(2026, 2, 20),
            span: Span::default(),
        }],
        never_certified: None,
        broken: false,
    };
    Study {
        title: at("Twelve sealers on a locker lid".into()),
        author: Some("Low Quay finishing bench".into()),
        begins: Some(at(date(2025, 4, 1))),
        question: Some("Which sealer keeps its gloss outdoors longest?".into()),
        decide: Some(Decision {
            measure: Some(MeasureId::new(0)),
            round: Some(RoundId::new(8)),
            span: Span::default(),
        }),
        prose: "One panel, one pair of hands. Readings are *invented*.\n\n<script>alert(1)</script>".into(),
        surface: surface(),
        gauges: vec![gauge],
        measures: measures(),
        supplies: supplies(),
        products: products(),
        prep: prep(),
        grid: Some(Grid {
            width: mm(170.0),
            height: mm(120.0),
            gap: Some(mm(14.0)),
            places: vec![6; 5],
            span: Span::default(),
        }),
        sections: sections(),
        apply: Some(Apply {
            on: Some(at(date(2025, 4, 7))),
            from: Some(jiff::civil::time(9, 0, 0, 0)),
            climate: ApplyClimate {
                air: Some(Range {
                    low: any(18.0, "degC").typed().unwrap(),
                    high: any(22.0, "degC").typed().unwrap(),
                }),
                humidity: Some(Range {
                    low: any(40.0, "% humidity").typed().unwrap(),
                    high: any(60.0, "% humidity").typed().unwrap(),
                }),
                above_dew_point: any(3.0, "degC").typed(),
                surface_below: None,
            },
            by: Some("A. N.".into()),
            span: Span::default(),
            broken: false,
        }),
        rounds: rounds(),
        before_each_round: vec![
            Step { rinse: true, ..with(Verb::Wash, 0) },
            step(Verb::Dry),
            Step { wait: Some(time(2.0, "h")), ..step(Verb::Wait) },
        ],
        upkeep: vec![Upkeep::Every {
            every: time(2.0, "weeks"),
            step: Box::new(with(Verb::Wash, 0)),
            from: Some(time(21.0, "days")),
            span: Span::default(),
        }],
        exposure: Some(Exposure {
            site: "Boat shed roof".into(),
            faces: Some("south".into()),
            tilt_deg: Some(45.0),
            put_out: Some(at(date(2025, 4, 20))),
            ..Exposure::default()
        }),
        readings: vec![ReadingsFile {
            name: at("readings.csv".into()),
            columns: Vec::new(),
            leave_out: vec![LeaveOut {
                measure: MeasureId::new(0),
                section: SectionId::new(8),
                round: RoundId::new(5),
                reading: Some(4),
                value: Some(61.2),
                because: "gauge rocked on | a grain".into(),
                span: Span::default(),
            }],
        }],
        done: vec![Done {
            date: at(date(2025, 4, 7)),
            time: Some(jiff::civil::time(10, 20, 0, 0)),
            what: DoneWhat::Coat(1, at(ProductId::new(0))),
            section: None,
            used: Some(any(0.7, "ml")),
            at: any(19.0, "degC").typed(),
            humidity: any(52.0, "% humidity").typed(),
            by: Some("A. N.".into()),
            because: None,
            span: Span::default(),
        }],
        log: vec![LogEntry {
            date: at(date(2025, 8, 2)),
            reach: Reach::Sections(vec![SectionId::new(14)]),
            text: "gull lime, rinsed within the hour".into(),
            ends: false,
            span: Span::default(),
        }],
        waivers: vec![Waiver {
            code: at("no-dwell".into()),
            places: vec![at("iris".into())],
            because: Some("spray-on, buffed at once".into()),
            span: Span::default(),
        }],
        assumed: vec!["Differences in film are alike within 3 um, from the built-in measure.".into()],
        ..Study::default()
    }
}
