//! What a plan can tell apart: its own figure, and what more sections, bare sections, readings or fewer products buy.

use super::blocks::{Part, Table};
use super::material::Material;
use super::names;
use super::numbers::{self, Figure, Style, with_unit};
use crate::analysis::{Compared, MeasureAnalysis, Role, Spread};
use crate::diag::{count, two_digits};
use crate::planning::{DRAWS, Room, Scatter, fewest_readings, least_p, least_scatter, smallest_by_ranks};
use crate::speech::{Language, speak};
use crate::study::{Measure, MeasureId, MeasureKind, Study, Unit};

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
    /// The 95 % interval of a measured scatter, in parts of it.
    ends: Option<(f64, f64)>,
    by: Procedure,
    /// The pieces that carry products unevenly, where products are compared within them.
    uneven: Option<String>,
}

/// How the report compares the measure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Procedure {
    /// By means: Dunnett against bare, Tukey and Kramer among products.
    Means,
    /// By the ranks of marks, against bare only.
    Ranks,
}

impl Basis<'_> {
    /// The smallest difference to bare of a layout, in the unit of the measure.
    fn figure(&self, room: &Room, readings: u32) -> Option<f64> {
        Some(self.spreads(room)? * self.scatter.of_section(readings))
    }

    /// The same in spreads of the number of a section.
    fn spreads(&self, room: &Room) -> Option<f64> {
        match self.by {
            Procedure::Means => room.smallest(),
            Procedure::Ranks => smallest_by_ranks(room),
        }
    }

    /// A layout of the same study with as many sections for every product.
    fn even(&self, products: usize, each: usize, bare: usize) -> Room {
        Room::even(products, each, bare).on_pieces_of(&self.room).where_spreads(self.room.differ)
    }

    /// The smallest difference between two products of a layout, in the unit of the figures.
    fn between(&self, room: &Room, readings: u32) -> Option<f64> {
        Some(room.smallest_between()? * self.scatter.of_section(readings))
    }

    /// A table whose rows give both figures of a layout; `first` are the heads before them.
    fn table(&self, first: &[String]) -> Table {
        let mut heads = first.to_vec();
        heads.push(format!(">from bare, {}", self.unit));
        if self.by == Procedure::Means {
            heads.push(format!(">of two products, {}", self.unit));
        }
        heads.push(String::new());
        Table::new(&heads)
    }

    /// A row of such a table.
    fn row(&self, table: &mut Table, first: Vec<Figure>, (room, readings): (&Room, u32), mark: &str) {
        let mut row = first;
        row.push(figure(self.figure(room, readings)));
        if self.by == Procedure::Means {
            row.push(figure(self.between(room, readings)));
        }
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
    let room = Room::of(study, id).ok_or_else(|| cannot("The map names no products yet; draw it first."))?;
    let readings =
        fewest_readings(study, id).ok_or_else(|| cannot("No round says how often a section is read."))?;
    let measure = study.measure(id);
    let style = Style::of(study, measure);
    let known = scatter(material, id, readings, assumed);
    let unit = if known.is_some() { style.unit } else { "spreads" };
    let by = match measure.kind {
        MeasureKind::Rating(_) => Procedure::Ranks,
        _ => Procedure::Means,
    };
    let unknown = || Known {
        scatter: Scatter { sections: 1.0, reading: 0.0, means: 1 },
        from: match by {
            Procedure::Means => NOT_KNOWN.to_owned(),
            Procedure::Ranks => NO_MARKS.to_owned(),
        },
        ends: None,
    };
    let Known { scatter, from, ends } = known.unwrap_or_else(unknown);
    let uneven = match study.unit(id) {
        Unit::Linked(grouping) => Some(format!("{}s", grouping.name.value)),
        Unit::Section | Unit::Piece(_) | Unit::Within(_) => None,
    };
    Ok(Basis { measure, style, unit, room, readings, scatter, from, ends, by, uneven })
}

const NOT_KNOWN: &str = "not known, so that all figures are in spreads of a section's number. Give the gauge a line \
                         `two readings agree within` or `spread`, or give the command `--section-spread` and \
                         `--reading-spread`";
const NO_MARKS: &str = "not known, so that all figures are in spreads of a section's mark. Give the command \
                        `--section-spread`, how far marks of sections treated alike lie apart";

/// The scatter that figures are made with.
struct Known {
    scatter: Scatter,
    from: String,
    ends: Option<(f64, f64)>,
}

fn measure_of(material: &Material<'_>) -> Option<MeasureId> {
    let asked = material.analysis.question.map(|question| question.measure);
    let decided = material.study.decide.as_ref().and_then(|decide| decide.measure);
    let read = |&id: &MeasureId| fewest_readings(material.study, id).is_some();
    asked.or(decided).or_else(|| material.study.measures_with_ids().map(|(id, _)| id).find(read))
}

/// The scatter: what the user assumes, else what the last round showed, else what the gauge alone gives.
fn scatter(material: &Material<'_>, id: MeasureId, readings: u32, assumed: Assumed) -> Option<Known> {
    let study = material.study;
    let style = Style::of(study, study.measure(id));
    let analysis = material.analysis.measure(id);
    let rated = matches!(study.measure(id).kind, MeasureKind::Rating(_));
    let means = match analysis.map(|analysis| analysis.compared) {
        _ if rated => 1,
        Some(Compared::Level) => 1,
        Some(Compared::Change) | None => 2,
    };
    let reading = if rated { None } else { reading(material, id, assumed) };
    let alone = Scatter { sections: 0.0, reading: reading.as_ref().map_or(0.0, |reading| reading.0), means };
    let of_readings = match &reading {
        Some((_, from)) => format!("; readings of one section by {from}"),
        None if rated => String::new(),
        None => "; that of readings is not known and taken as none beyond it".to_owned(),
    };
    if let Some(sections) = assumed.sections {
        let from = format!("assumed: sections treated alike by {}{of_readings}", spread(style, sections));
        return Some(Known { scatter: Scatter { sections, ..alone }, from, ends: None });
    }
    let measured = || {
        let (round, measured) = measured(study, analysis?, rated)?;
        let scatter = alone.behind(measured.sd, readings);
        let explained = scatter.of_section(readings);
        let more = if explained > measured.sd * 1.005 {
            format!(
                "; the readings by themselves explain {}, which is more, so that the larger is taken",
                spread(style, explained)
            )
        } else {
            String::new()
        };
        let what = match (rated, means) {
            (true, _) => "marks",
            (_, 1) => "levels",
            _ => "changes",
        };
        let from = format!(
            "measured: the spread of {what} between sections treated alike at {round}, {}{of_readings}{more}",
            with_interval(style, measured)
        );
        let ends = measured.interval().map(|(low, high)| (low / measured.sd, high / measured.sd));
        Some(Known { scatter, from, ends })
    };
    let least = || {
        let from = format!(
            "the least there can be: readings alone, by {}, as if sections treated alike did not differ; real sections do, \
             so the true figures are larger",
            reading.as_ref()?.1
        );
        Some(Known { scatter: alone, from, ends: None })
    };
    if assumed.reading.is_some() && !rated { least() } else { measured().or_else(least) }
}

/// The spread of readings of one section, and where it comes from.
fn reading(material: &Material<'_>, id: MeasureId, assumed: Assumed) -> Option<(f64, String)> {
    let study = material.study;
    let style = Style::of(study, study.measure(id));
    let assumed = assumed.reading.map(|sd| (sd, format!("{}, assumed", spread(style, sd))));
    let measured = || {
        let within = material.analysis.measure(id)?.within_cells.filter(|within| within.sd > 0.0)?;
        Some((within.sd, format!("{}, measured within sections", with_interval(style, within))))
    };
    let declared = || {
        let sd = least_scatter(study, id)?.reading;
        Some((sd, format!("{}, as the gauge declares", spread(style, sd))))
    };
    assumed.or_else(measured).or_else(declared)
}

fn spread(style: Style<'_>, value: f64) -> String {
    with_unit(&two_digits(value), style.unit)
}

/// `0.44 GU on 6 degrees of freedom (95 % interval 0.28 to 0.97)`.
fn with_interval(style: Style<'_>, measured: Spread) -> String {
    let interval = measured.interval().map_or_else(String::new, |(low, high)| {
        format!(" (95 % interval {} to {})", two_digits(low), two_digits(high))
    });
    format!("{} on {}{interval}", spread(style, measured.sd), numbers::degrees(measured.df))
}

/// The spread of what is compared at the round that decides, where it has one, else at the last that has one, between sections treated alike.
fn measured<'a>(study: &'a Study, measure: &MeasureAnalysis, rated: bool) -> Option<(&'a str, Spread)> {
    let decides = measure.rounds.iter().filter(|round| round.role == Role::Deciding);
    let after = measure.rounds.iter().rev().filter(|round| round.role != Role::UpToReference);
    decides.chain(after).find_map(|round| {
        let found = if rated { round.level_spread } else { round.to_bare.as_ref().ok()?.basis.spread };
        let spread = found.filter(|spread| spread.df >= 3.0 && spread.sd > 0.0)?;
        Some((names::round_written(study, round.round), spread))
    })
}

fn this_layout(basis: &Basis<'_>) -> Part {
    let (room, unit) = (&basis.room, basis.unit);
    let name = &basis.measure.name.value;
    let spreads = basis.spreads(room);
    let figure = basis.figure(room, basis.readings);
    // Ranks need no spread, and have a smallest p instead.
    let few = room.df < FOR_WORDS && basis.by == Procedure::Means;
    let mut part = Part::new(match figure {
        Some(_) if few => "This plan has too few sections treated alike to judge anything".to_owned(),
        Some(figure) => format!(
            "This plan tells a product apart from bare from about {} {unit} of {name} on",
            two_digits(figure)
        ),
        None => "This plan tells nothing apart from bare".to_owned(),
    });
    part.say(format!(
        "The layout, as far as {name} is read there: {}, {}, {}{}; {} on each section. {} of freedom for the spread of \
         sections treated alike.",
        count(room.products.len(), "product"),
        each(room),
        count(room.bare, "bare section"),
        match room.others.iter().sum::<usize>() {
            0 => String::new(),
            n => format!(", {} with the carrier alone or untouched, which are held against bare as well", count(n, "section")),
        },
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
    if let Some(pieces) = &basis.uneven {
        part.say(format!(
            "{} carry the products unevenly. The report compares within them, where differences have larger errors than the figures \
             below, which count sections as if every product lay on all {pieces} alike: take them as the least.",
            names::capital(pieces)
        ));
    }
    part.say(procedure(basis));
    if let Some(spreads) = spreads.filter(|_| basis.unit == basis.style.unit) {
        part.say(format!(
            "That is {} times the spread of a section's number, {}.{}",
            two_digits(spreads),
            spread(basis.style, basis.scatter.of_section(basis.readings)),
            basis.ends.zip(figure).map_or_else(String::new, |((low, high), figure)| format!(
                " A measured spread is itself not sure: at the ends of its 95 % interval the figure is {} and {} {unit}.",
                two_digits(figure * low),
                two_digits(figure * high)
            ))
        ));
    }
    if spreads.is_none() {
        part.say(nothing(basis));
    }
    part.list(limits(basis, figure));
    part
}

/// What the figures are, by the procedure of the report.
fn procedure(basis: &Basis<'_>) -> String {
    let what = "Every figure below is the smallest true difference that four of five such studies tell apart, by the tests of \
                the report: two-sided, 5 % for all comparisons together";
    match basis.by {
        Procedure::Means => format!("{what}{}", by_means(&basis.room)),
        Procedure::Ranks => format!(
            "{what}. Marks are ranked: from bare by Wilcoxon, Mann and Whitney, p after Holm for all rows of \
             its table, as where the study decides by it. The figures come \
             from {} simulated studies (seed {}) in which marks scatter by a bell curve and no two are equal. Real marks are \
             often equal, which asks for more, so take them as the least. Products are not held against each other by ranks.",
            numbers::grouped(DRAWS.count),
            DRAWS.seed
        ),
    }
}

/// Of means, by the spread that the report will judge by.
fn by_means(room: &Room) -> String {
    let shared = "80 % power by the noncentral t distribution; from bare by Dunnett (1955), of two products by Tukey and Kramer (1956)";
    if room.own_spreads() {
        return format!(
            ". The study says that spreads differ, and all have 4 sections or more: each treatment is judged by its own spread \
             (Games and Howell 1976), in {} simulated studies (seed {}). The figures hold for two treatments that both scatter by as \
             much as is said here; of two that both scatter twice as much they are twice as large. A line with fewer than 4 \
             sections of anything is by the spread that all share ({shared}).",
            numbers::grouped(DRAWS.count),
            DRAWS.seed
        );
    }
    let pooled = if room.differ {
        " The study says that spreads differ. With fewer than 4 sections to a product or to bare the report cannot follow that and \
         pools them, and so do these figures: they are too low for a product that scatters more than the others. A line with 4 or \
         more of everything is by the spread of each (Games and Howell 1976)."
    } else {
        ""
    };
    format!(", {shared}.{pooled}")
}

/// Why the plan tells nothing apart from bare.
fn nothing(basis: &Basis<'_>) -> String {
    match (basis.by, least_p(&basis.room)) {
        (Procedure::Ranks, Some(least)) => format!(
            "With so few sections the smallest p that marks can reach for {} together is {}: they cannot tell a product from \
             bare, however far apart. More sections of each, bare ones included, mend that.",
            count(basis.room.compared().len(), "row"),
            numbers::probability(least)
        ),
        _ => {
            "A comparison with bare needs bare sections, and at least two sections treated alike.".to_owned()
        }
    }
}

fn each(room: &Room) -> String {
    let (fewest, most) = (room.products.iter().min(), room.products.iter().max());
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
        Room { bare, df, ..basis.room.clone() }
    };
    let enough = (2..=24).find(|&bare| {
        let now = basis.spreads(&with(bare));
        now.zip(basis.spreads(&with(bare + 2))).is_some_and(|(now, more)| more > now * (1.0 - ENOUGH))
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
    let products = basis.room.products.len();
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
        let told = |&bare: &usize| figure(basis.figure(&basis.even(products, each, bare), basis.readings));
        row.extend(bare.iter().map(told));
        table.row(row);
    }
    part.table(table);
    part
}

fn products(basis: &Basis<'_>) -> Part {
    let now = basis.room.products.len();
    let mut part = Part::new("The number of products");
    let each = basis.room.fewest().unwrap_or(1);
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
        let room = basis.even(number, each, bare);
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
    let mut table = basis.table(&[">readings".to_owned(), format!(">spread of a section, {unit}")]);
    for number in numbers {
        let mark = if number == basis.readings { "as planned" } else { "" };
        let first = vec![number.to_string().into(), figure(Some(basis.scatter.of_section(number)))];
        basis.row(&mut table, first, (&basis.room, number), mark);
    }
    part.table(table);
    part
}
