//! Builds small studies: sections with what they carry, rounds with dates, and readings as rows of a file.

use jiff::civil::Date;
use std::fmt::Write;
use tapeline::analysis::{Analysis, ControlTable, LeadTable, MeasureAnalysis, SectionAt, analyse};
use tapeline::readings::{Input, read_as_of};
use tapeline::study::{
    Apply, ApplyClimate, Decision, Direction, LeaveOut, Limit, Measure, MeasureId, MeasureKind, MeasureUnit,
    Placing, Product, ProductId, ReadPlan, ReadingsFile, Reference, Round, RoundId, Section, SectionId,
    SpentRule, Study, Treatment, Window,
};
use tapeline::text::{FileId, Located, Span};
use tapeline::units::unit;

/// A study under construction and its rows of readings.
pub(crate) struct Bench {
    pub(crate) study: Study,
    pub(crate) rows: Vec<String>,
    pub(crate) as_of: Date,
}

pub(crate) fn at<T>(value: T) -> Located<T> {
    Located::new(value, Span::default())
}

pub(crate) fn day(text: &str) -> Date {
    text.parse().unwrap()
}

impl Bench {
    /// A study of gloss with a baseline; `sections` are codes with the name of a product, `bare` and the like.
    pub(crate) fn new(sections: &[(&str, &str)], rounds: &[(&str, &str)]) -> Self {
        let mut bench = Self { study: Study::default(), rows: Vec::new(), as_of: day("2030-01-01") };
        bench.study.apply = Some(Apply {
            on: Some(at(day("2024-01-02"))),
            from: None,
            climate: ApplyClimate::default(),
            tape_off: None,
            pace: tapeline::study::Pace::default(),
            by: None,
            span: Span::default(),
            stated: true,
            broken: false,
        });
        bench.study.readings = vec![ReadingsFile {
            name: at("rows.csv".into()),
            home: None,
            site: None,
            columns: Vec::new(),
            leave_out: Vec::new(),
            broken: false,
        }];
        bench.study.rounds = rounds.iter().map(|&(name, date)| round(name, date)).collect();
        for &(code, carries) in sections {
            bench.section(code, carries);
        }
        bench.measure("gloss");
        bench
    }

    fn section(&mut self, code: &str, carries: &str) {
        let treatment = match carries {
            "bare" => Treatment::Bare,
            "carrier" => Treatment::CarrierOnly,
            "untouched" => Treatment::Untouched,
            name => Treatment::Product(self.product(name)),
        };
        self.study.sections.push(Section {
            code: code.into(),
            specimen: None,
            site: None,
            treatment,
            row: None,
            column: None,
            outline: None,
            span: Span::default(),
        });
    }

    fn product(&mut self, name: &str) -> ProductId {
        let known = self.study.products.iter().position(|product| product.name.value == name);
        ProductId::new(known.unwrap_or_else(|| {
            self.study.products.push(product(name));
            self.study.products.len() - 1
        }))
    }

    /// Adds a measure in GU that every round reads three times on every section.
    pub(crate) fn measure(&mut self, name: &str) -> MeasureId {
        let id = MeasureId::new(self.study.measures.len());
        self.study.measures.push(Measure {
            kind: MeasureKind::Read,
            home: None,
            of: None,
            name: at(name.into()),
            unit: MeasureUnit { symbol: "GU".into(), known: unit("GU") },
            direction: Direction::Higher,
            alike: None,
            seen: None,
            spent: None,
            change_from: Reference::Baseline,
            change_stated: false,
            adjust_for_baseline: false,
            possible: None,
            broken: false,
        });
        for round in &mut self.study.rounds {
            round.reads.push(ReadPlan { measure: at(id), times: 3 });
        }
        id
    }

    /// Declares alike and seen of the first measure.
    pub(crate) fn limits(&mut self, alike: f64, seen: f64) {
        self.study.measures[0].alike = Some(at(alike));
        self.study.measures[0].seen = Some(at(seen));
    }

    pub(crate) fn spent_below(&mut self, limit: Limit) {
        self.study.measures[0].spent =
            Some(SpentRule { below: true, at_limit: false, limit, span: Span::default() });
    }

    /// `decide by gloss at` this round.
    pub(crate) fn decide(&mut self, round: &str) {
        let (measure, round) = (Some(MeasureId::new(0)), self.study.round_named(round));
        self.study.decide = Some(Decision { measure, round, span: Span::default() });
    }

    /// Readings of the first measure on one section.
    pub(crate) fn read(&mut self, round: &str, section: &str, values: &[f64]) {
        self.read_as("gloss", round, section, values);
    }

    pub(crate) fn read_as(&mut self, measure: &str, round: &str, section: &str, values: &[f64]) {
        let date = self.study.round(self.study.round_named(round).unwrap()).date().unwrap();
        for value in values {
            self.rows.push(format!("{date},{round},{section},{measure},{value},GU"));
        }
    }

    /// One section mean for each section in order, as two readings 1 GU apart.
    pub(crate) fn means(&mut self, round: &str, means: &[f64]) {
        let codes: Vec<String> = self.study.sections.iter().map(|section| section.code.clone()).collect();
        for (code, mean) in codes.iter().zip(means) {
            self.read(round, code, &[mean - 0.5, mean + 0.5]);
        }
    }

    pub(crate) fn leave_out(&mut self, round: &str, section: &str, value: f64) {
        let (section, round) = (self.section_id(section), self.round_id(round));
        self.study.readings[0].leave_out.push(LeaveOut {
            measure: MeasureId::new(0),
            section,
            round,
            reading: None,
            value: Some(value),
            because: "the foot slipped".into(),
            span: Span::default(),
        });
    }

    pub(crate) fn section_id(&self, code: &str) -> SectionId {
        SectionId::new(self.study.sections.iter().position(|section| section.code == code).unwrap())
    }

    pub(crate) fn product_id(&self, name: &str) -> ProductId {
        ProductId::new(self.study.products.iter().position(|product| product.name.value == name).unwrap())
    }

    pub(crate) fn round_id(&self, name: &str) -> RoundId {
        self.study.round_named(name).unwrap()
    }

    pub(crate) fn analyse(&self) -> Analysis {
        let mut text = String::from("date,round,section,measure,value,unit,by\n");
        for row in &self.rows {
            writeln!(text, "{row}").unwrap();
        }
        let input = Input { file: FileId(1), bytes: text.as_bytes() };
        let (readings, findings) = read_as_of(&self.study, &[Some(input)], Some(self.as_of));
        let errors: Vec<_> =
            findings.iter().filter(|finding| finding.severity == tapeline::diag::Severity::Error).collect();
        assert!(errors.is_empty(), "{errors:?}");
        let analysis = analyse(&self.study, &readings, Some(self.as_of));
        assert_finite(&analysis);
        analysis
    }

    /// The first measure's analysis.
    pub(crate) fn gloss(&self) -> MeasureAnalysis {
        self.analyse().measures.remove(0)
    }

    /// The table against bare of the first measure at a round.
    pub(crate) fn to_bare(&self, round: &str) -> ControlTable {
        self.gloss().round(self.round_id(round)).unwrap().to_bare.clone().unwrap()
    }

    /// The table of leads of the first measure at a round.
    pub(crate) fn lead(&self, round: &str) -> LeadTable {
        self.gloss().round(self.round_id(round)).unwrap().lead.clone().unwrap()
    }

    /// One section at one round of the first measure.
    pub(crate) fn cell(&self, round: &str, section: &str) -> SectionAt {
        let (gloss, id, round) = (self.gloss(), self.section_id(section), self.round_id(round));
        let series = gloss.sections.iter().find(|series| series.section == id).unwrap();
        series.at.iter().find(|at| at.round == round).unwrap().clone()
    }
}

/// No number of an analysis is NaN or infinite. `Debug` prints every field, so none can be forgotten here.
fn assert_finite(analysis: &Analysis) {
    let printed = format!("{analysis:?}");
    for word in printed.split(|c: char| !c.is_ascii_alphanumeric()) {
        assert!(word != "NaN" && word != "inf", "{printed}");
    }
}

pub(crate) fn round(name: &str, date: &str) -> Round {
    let date = day(date);
    Round {
        name: at(name.into()),
        placing: Placing::On,
        window: Some(Window { date, first: date, last: date }),
        at_sites: Vec::new(),
        within: None,
        reads: Vec::new(),
        span: Span::default(),
    }
}

fn product(name: &str) -> Product {
    Product {
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
