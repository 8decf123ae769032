//! What a plan can tell apart: its own figure, and what more sections, bare sections, readings or fewer products buy.

use super::blocks::{Part, Table};
use super::material::Material;
use super::names;
use super::numbers::{Figure, Style};
use crate::analysis::MeasureAnalysis;
use crate::diag::{count, two_digits};
use crate::planning::{Room, Scatter, fewest_readings, least_scatter};
use crate::speech::{Language, speak};
use crate::study::{Measure, MeasureId, Study};

/// Scatter that the user takes for granted, in the unit of the measure.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Assumed {
    /// Standard deviation between sections treated alike.
    pub sections: Option<f64>,
    /// Standard deviation of one reading.
    pub reading: Option<f64>,
}

/// What a plan can tell apart.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanView {
    /// Title of the study.
    pub title: String,
    /// Its parts, in order.
    pub parts: Vec<Part>,
}

/// Everything that the figures rest on.
struct Basis<'a> {
    measure: &'a Measure,
    style: Style<'a>,
    /// Unit of the figures: that of the measure, or spreads of a section's change where the scatter is not known.
    unit: &'a str,
    room: Room,
    readings: u32,
    scatter: Scatter,
    /// Where the scatter comes from, as a sentence.
    from: String,
}

impl Basis<'_> {
    /// The smallest difference to bare of a layout, in the unit of the measure.
    fn figure(&self, room: &Room, readings: u32) -> Option<f64> {
        Some(room.smallest()? * self.scatter.of_change(readings))
    }

    /// The smallest difference between two products of a layout, in the unit of the figures.
    fn between(&self, room: &Room, readings: u32) -> Option<f64> {
        Some(room.smallest_between()? * self.scatter.of_change(readings))
    }

    /// A table whose rows give both figures of a layout; `first` are the heads before them.
    fn table(&self, first: &[String]) -> Table {
        let mut heads = first.to_vec();
        heads.push(format!(">from bare, {}", self.unit));
        heads.push(format!(">of two products, {}", self.unit));
        heads.push(String::new());
        Table::new(&heads)
    }

    /// A row of such a table.
    fn row(&self, table: &mut Table, first: Vec<Figure>, (room, readings): (&Room, u32), mark: &str) {
        let mut row = first;
        row.extend([self.figure(room, readings), self.between(room, readings)].map(figure));
        row.push(mark.into());
        table.row(row);
    }
}

fn figure(value: Option<f64>) -> Figure {
    value.map_or_else(Figure::none, |value| Figure { raw: Some(value), text: two_digits(value) })
}

/// Degrees of freedom below which the report judges nothing.
const FOR_WORDS: usize = 3;

/// Makes the view of a plan.
pub fn plan(material: &Material<'_>, assumed: Assumed) -> PlanView {
    let _speech = speak(Language::English);
    let parts = match basis(material, assumed) {
        Ok(basis) => {
            let mut parts =
                vec![this_layout(&basis), bare_sections(&basis), sections(&basis), products(&basis)];
            // Readings buy nothing that can be told while their scatter is not known.
            parts.extend((basis.scatter.reading > 0.0).then(|| readings(&basis)));
            parts
        }
        Err(part) => vec![*part],
    };
    PlanView { title: material.study.title.value.clone(), parts }
}

fn basis<'a>(material: &Material<'a>, assumed: Assumed) -> Result<Basis<'a>, Box<Part>> {
    let study = material.study;
    let cannot = |why: &str| {
        let mut part = Part::new("Nothing can be said about this plan yet");
        part.say(why);
        Box::new(part)
    };
    let id = measure_of(material).ok_or_else(|| cannot("The study names no measure that a round reads."))?;
    let room = Room::of(study).ok_or_else(|| cannot("The map names no products yet; draw it first."))?;
    let readings =
        fewest_readings(study, id).ok_or_else(|| cannot("No round says how often a section is read."))?;
    let measure = study.measure(id);
    let style = Style::of(study, measure);
    let known = scatter(material, id, readings, assumed);
    let unit = if known.is_some() { style.unit } else { "spreads" };
    let (scatter, from) =
        known.unwrap_or_else(|| (Scatter { sections: 1.0, reading: 0.0 }, NOT_KNOWN.to_owned()));
    Ok(Basis { measure, style, unit, room, readings, scatter, from })
}

const NOT_KNOWN: &str = "not known, so that all figures are in spreads of a section's change. Give the gauge a line \
                         `two readings agree within`, or give the command `--section-spread` and `--reading-spread`";

fn measure_of(material: &Material<'_>) -> Option<MeasureId> {
    let asked = material.analysis.question.map(|question| question.measure);
    let decided = material.study.decide.as_ref().and_then(|decide| decide.measure);
    let read = |&id: &MeasureId| fewest_readings(material.study, id).is_some();
    asked.or(decided).or_else(|| material.study.measures_with_ids().map(|(id, _)| id).find(read))
}

/// The scatter: what the user assumes, else what the last round showed, else what the gauge alone gives.
fn scatter(
    material: &Material<'_>,
    id: MeasureId,
    readings: u32,
    assumed: Assumed,
) -> Option<(Scatter, String)> {
    let study = material.study;
    let style = Style::of(study, study.measure(id));
    let gauge = least_scatter(study, id);
    let analysis = material.analysis.measure(id);
    let reading = assumed
        .reading
        .or_else(|| analysis?.within_cells.map(|spread| spread.sd))
        .or(gauge.map(|g| g.reading));
    if let Some(sections) = assumed.sections {
        let scatter = Scatter { sections, reading: reading.unwrap_or(0.0) };
        return Some((
            scatter,
            format!("assumed: sections treated alike scatter by {}", spread(style, sections)),
        ));
    }
    let measured = || {
        let (round, sd) = measured_change(study, analysis?)?;
        let scatter = Scatter::behind(sd, reading?, readings);
        let explained = scatter.of_change(readings);
        let more = if explained > sd * 1.005 {
            format!(
                "; the readings by themselves explain {}, which is more, so that the larger is taken",
                spread(style, explained)
            )
        } else {
            String::new()
        };
        Some((scatter, format!("measured: the spread of changes at {round}, {}{more}", spread(style, sd))))
    };
    let least = || {
        let scatter = Scatter { sections: 0.0, reading: reading? };
        let from = "the least there can be: readings alone, as if sections treated alike did not differ; real \
                    sections do, so the true figures are larger";
        Some((scatter, from.to_owned()))
    };
    if assumed.reading.is_some() { least() } else { measured().or_else(least) }
}

fn spread(style: Style<'_>, value: f64) -> String {
    format!("{} {}", two_digits(value), style.unit)
}

/// The spread of the changes at the last round that has one, between sections treated alike.
fn measured_change<'a>(study: &'a Study, measure: &MeasureAnalysis) -> Option<(&'a str, f64)> {
    measure.rounds.iter().rev().find_map(|round| {
        let basis = &round.to_bare.as_ref().ok()?.basis;
        let spread = basis.spread.filter(|spread| spread.df >= 3.0 && spread.sd > 0.0)?;
        Some((names::round(study, round.round), spread.sd))
    })
}

fn this_layout(basis: &Basis<'_>) -> Part {
    let (room, unit) = (&basis.room, basis.unit);
    let name = &basis.measure.name.value;
    let spreads = room.smallest();
    let figure = basis.figure(room, basis.readings);
    let few = room.df < FOR_WORDS;
    let mut part = Part::new(match figure {
        Some(_) if few => "This plan has too few sections treated alike to judge anything".to_owned(),
        Some(figure) => format!(
            "This plan tells a product apart from bare from about {} {unit} of {name} on",
            two_digits(figure)
        ),
        None => "This plan tells nothing apart from bare".to_owned(),
    });
    part.say(format!(
        "The layout: {}, {}, {}; {} on each section. {} of freedom for the spread of sections treated alike.",
        count(room.compared.len(), "product"),
        each(room),
        count(room.bare, "bare section"),
        count(basis.readings as usize, "reading"),
        count(room.df, "degree"),
    ));
    if few {
        part.say(format!(
            "Below {FOR_WORDS} degrees of freedom the report gives intervals and no words, so that this plan tells nothing \
             apart, whatever the figures below say. More bare sections mend that first."
        ));
    }
    part.say(format!("The scatter is {}.", basis.from));
    part.say(
        "Every figure below is the smallest true difference that four of five such studies tell apart, by the tests \
         of the report: two-sided, 5 % for all comparisons together, 80 % power by the noncentral t distribution; \
         from bare by Dunnett (1955), of two products by Tukey and Kramer (1956).",
    );
    if let Some(spreads) = spreads.filter(|_| basis.unit == basis.style.unit) {
        part.say(format!(
            "That is {} times the spread of a section's change, {}.",
            two_digits(spreads),
            spread(basis.style, basis.scatter.of_change(basis.readings))
        ));
    }
    if spreads.is_none() {
        part.say("A comparison with bare needs bare sections, and at least two sections treated alike.");
    }
    part.list(limits(basis, figure));
    part
}

fn each(room: &Room) -> String {
    let (fewest, most) = (room.compared.iter().min(), room.compared.iter().max());
    match (fewest, most) {
        (Some(fewest), Some(most)) if fewest == most => format!("{} each", count(*fewest, "section")),
        (Some(fewest), Some(most)) => format!("{fewest} to {most} sections each"),
        _ => "no section".to_owned(),
    }
}

/// How the figure stands to the declared limits.
fn limits(basis: &Basis<'_>, figure: Option<f64>) -> Vec<String> {
    let Some(figure) = figure.filter(|_| basis.unit == basis.style.unit) else { return Vec::new() };
    let line = |limit: f64, what: &str, below: &str, above: &str| {
        let value = basis.style.value(limit).text;
        format!("{what} {value}: {}.", if figure <= limit { below } else { above })
    };
    let seen = basis.measure.seen.as_ref().map(|limit| {
        line(
            limit.value,
            "An eye sees",
            "what is seen is told apart",
            "a difference that is seen may be missed",
        )
    });
    let alike = basis.measure.alike.as_ref().map(|limit| {
        line(
            limit.value,
            "A difference does not matter up to",
            "whatever matters is told apart",
            "some differences that matter will not be settled",
        )
    });
    seen.into_iter().chain(alike).collect()
}

/// The numbers of bare sections that the table shows.
const BARE: [usize; 8] = [2, 3, 4, 5, 6, 8, 10, 12];
/// Two more bare sections that buy less than this share are not worth their place.
const ENOUGH: f64 = 0.05;

fn bare_sections(basis: &Basis<'_>) -> Part {
    let mut numbers = BARE.to_vec();
    numbers.push(basis.room.bare);
    numbers.sort_unstable();
    numbers.dedup();
    let numbers: Vec<usize> = numbers.into_iter().filter(|&n| n >= 1).collect();
    let with = |bare: usize| {
        let df = basis.room.df - basis.room.bare.saturating_sub(1) + bare - 1;
        Room { compared: basis.room.compared.clone(), bare, df }
    };
    let enough = (2..=24).find(|&bare| {
        let now = with(bare).smallest();
        now.zip(with(bare + 2).smallest()).is_some_and(|(now, more)| more > now * (1.0 - ENOUGH))
    });
    let mut part = Part::new(match enough {
        Some(enough) if basis.room.bare >= enough => {
            format!("{} are enough", count(basis.room.bare, "bare section"))
        }
        Some(enough) => format!("{enough} bare sections would be enough"),
        None => "More bare sections help".to_owned(),
    });
    part.say(format!(
        "From there on two more lower the figure by less than {:.0} %. {} as they are planned.",
        ENOUGH * 100.0,
        "Products, their sections and the readings stay"
    ));
    let mut table = basis.table(&[">bare sections".to_owned()]);
    for bare in numbers {
        let mark = if bare == basis.room.bare { "this plan" } else { "" };
        basis.row(&mut table, vec![bare.to_string().into()], (&with(bare), basis.readings), mark);
    }
    part.table(table);
    part
}

fn sections(basis: &Basis<'_>) -> Part {
    let products = basis.room.compared.len();
    let mut part = Part::new("Sections for each product, and bare sections");
    part.say(format!(
        "Told apart from bare, in {}, for {} with as many sections each and {} on each section.",
        basis.unit,
        count(products, "product"),
        count(basis.readings as usize, "reading")
    ));
    let bare = [2, 4, 6, 8];
    let mut heads = vec![">sections each".to_owned()];
    heads.extend(bare.iter().map(|bare| format!(">{bare} bare")));
    let mut table = Table::new(&heads);
    for each in 1..=4 {
        let mut row: Vec<Figure> = vec![each.to_string().into()];
        let told = |&bare: &usize| figure(basis.figure(&Room::even(products, each, bare), basis.readings));
        row.extend(bare.iter().map(told));
        table.row(row);
    }
    part.table(table);
    part
}

fn products(basis: &Basis<'_>) -> Part {
    let now = basis.room.compared.len();
    let mut part = Part::new("The number of products");
    let each = basis.room.compared.iter().min().copied().unwrap_or(1);
    let bare = basis.room.bare.max(2);
    part.say(format!(
        "On {} each beside {}: more products ask for more care against a false alarm, and bring more sections \
         that show the scatter where each has two or more.",
        count(each, "section"),
        count(bare, "bare section")
    ));
    let mut numbers = vec![3, 6, 10, 20, 30, 40, now];
    numbers.sort_unstable();
    numbers.dedup();
    let mut table = basis.table(&[">products".to_owned()]);
    for number in numbers {
        let mark = if number == now { "as planned" } else { "" };
        let room = Room::even(number, each, bare);
        basis.row(&mut table, vec![number.to_string().into()], (&room, basis.readings), mark);
    }
    part.table(table);
    part
}

fn falls(percent: f64) -> String {
    if percent < 1.0 {
        "the figure falls by less than 1 %".to_owned()
    } else {
        format!("the figure falls by {percent:.0} %")
    }
}

fn readings(basis: &Basis<'_>) -> Part {
    let now = basis.figure(&basis.room, basis.readings);
    let less = |room: &Room, readings: u32| {
        let share = 1.0 - basis.figure(room, readings)? / now?;
        Some(share * 100.0)
    };
    let reading = less(&basis.room, basis.readings + 1);
    let section = less(&basis.room.with_section(), basis.readings);
    let bare = less(&basis.room.with_bare(1), basis.readings);
    let mut part = Part::new(match (reading, section) {
        (Some(reading), Some(section)) if reading >= section => {
            "One more reading buys more than one more section"
        }
        (Some(_), Some(_)) => "One more section buys more than one more reading",
        _ => "Readings on each section",
    });
    let buys = [
        (reading, "one more reading on every section"),
        (section, "one more section for every product"),
        (bare, "one more bare section"),
    ];
    part.list(
        buys.into_iter()
            .filter_map(|(share, what)| Some(format!("{what}: {}", falls(share?))))
            .map(|text| names::capital(&text) + ".")
            .collect(),
    );
    let mut numbers = vec![1, 2, 3, 5, 8, 12, basis.readings];
    numbers.sort_unstable();
    numbers.dedup();
    let unit = basis.style.unit;
    let mut table = basis.table(&[">readings".to_owned(), format!(">spread of a change, {unit}")]);
    for number in numbers {
        let mark = if number == basis.readings { "as planned" } else { "" };
        let first = vec![number.to_string().into(), figure(Some(basis.scatter.of_change(number)))];
        basis.row(&mut table, first, (&basis.room, number), mark);
    }
    part.table(table);
    part
}
