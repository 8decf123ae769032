//! What a plan can tell apart: its own figure, and what more sections, bare sections, readings or fewer products buy.

mod bare;
mod dealt;
mod head;
mod scatter;

use bare::bare_sections;
use dealt::products;
use head::{heading, nothing};
pub use scatter::Assumed;
use scatter::{Known, digits, scatter, spread};

use super::blocks::{Part, Table};
use super::material::Material;
use super::names;
use super::numbers::{self, Figure, Style};
use crate::planning::{DRAWS, Room, Scatter, fewest_readings, smallest_by_ranks};
use crate::speech::{count, list, plural, say, speak};
use crate::study::{Measure, MeasureId, MeasureKind, Unit};

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
    /// Whether the scatter is that of readings alone.
    readings_alone: bool,
    /// What lies far off in the rounds that the scatter was measured in.
    far: Vec<String>,
    by: Procedure,
    /// The pieces that carry products unevenly, where products are compared within them.
    uneven: Option<String>,
    /// The sites whose average the differences are of.
    sites: Option<String>,
    /// What is counted, as `section`, or `plank` where every plank carries one product.
    noun: String,
    /// What pairs of products are held against each other by, in parts of the scatter, and how many degrees of freedom it has less.
    among: (f64, usize),
    /// Whether the last round that reads the measure was read, so that the plan is one that was carried out.
    over: bool,
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

    /// What is counted, as a plural.
    fn units(&self) -> String {
        plural(2, &self.noun)
    }

    /// The smallest difference between two products with so many, in the unit of the figures.
    fn two(&self, room: &Room, (one, other): (usize, usize)) -> Option<f64> {
        Some(self.of_products(room).smallest_of_two(one, other)? * self.among_products(self.readings))
    }

    /// The smallest difference between two products of a layout, in the unit of the figures.
    fn between(&self, room: &Room, readings: u32) -> Option<f64> {
        Some(self.of_products(room).smallest_between()? * self.among_products(readings))
    }

    /// A layout with the degrees of freedom that products have among themselves.
    fn of_products(&self, room: &Room) -> Room {
        Room { df: room.df.saturating_sub(self.among.1), ..room.clone() }
    }

    /// The scatter that products are held against each other by, in the unit of the figures.
    fn among_products(&self, readings: u32) -> f64 {
        self.scatter.of_section(readings) * self.among.0
    }

    /// A table whose rows give both figures of a layout; `first` are the heads before them.
    fn table(&self, first: &[String]) -> Table {
        let mut heads = first.to_vec();
        heads.push(say!(">from bare, {unit}", unit = self.unit));
        if self.by == Procedure::Means {
            heads.push(say!(">of two products, {unit}", unit = self.unit));
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
    value.map_or_else(Figure::none, |value| Figure { raw: Some(value), text: digits(value) })
}

/// Degrees of freedom below which the report judges nothing.
const FOR_WORDS: usize = 3;

/// Makes the view of a plan.
pub fn plan(material: &Material<'_>, assumed: Assumed) -> PlanView {
    let _speech = speak(material.study.language);
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
        let mut part = Part::new(say!("Nothing can be said about this plan yet"));
        part.say(why);
        Box::new(part)
    };
    let id =
        measure_of(material).ok_or_else(|| cannot(say!("The study names no measure that a round reads.")))?;
    let room =
        Room::of(study, id).ok_or_else(|| cannot(say!("The map names no products yet; draw it first.")))?;
    let readings = fewest_readings(study, id)
        .ok_or_else(|| cannot(say!("No round says how often a section is read.")))?;
    let measure = study.measure(id);
    let style = Style::of(material, id);
    let known = scatter(material, id, readings, assumed);
    let unit = if known.is_some() { style.difference_unit() } else { say!("spreads") };
    let by = match measure.kind {
        MeasureKind::Rating(_) => Procedure::Ranks,
        _ => Procedure::Means,
    };
    let Known { scatter, from, ends, readings_alone, far, among } =
        known.unwrap_or_else(|| unknown(measure, by));
    let far = far.into_iter().map(|(section, round)| {
        say!(
            "{section} at {round}",
            section = names::section(study, section),
            round = names::round(study, round)
        )
    });
    // Two people are no gauge: how far their marks lie apart is no slip of a reading.
    let far = if by == Procedure::Ranks { Vec::new() } else { far.collect() };
    let uneven = match study.unit(id) {
        Unit::Linked(grouping) => Some(plural(2, &grouping.name.value)),
        Unit::Section | Unit::Piece(_) | Unit::Within(_) => None,
    };
    let sites = study.by_site.as_ref().filter(|_| room.sites > 1).map(|sites| plural(2, &sites.name.value));
    let noun = names::unit(study, id).to_owned();
    Ok(Basis {
        measure,
        style,
        unit,
        room,
        readings,
        scatter,
        from,
        ends,
        readings_alone,
        far,
        by,
        uneven,
        sites,
        noun,
        among,
        over: study
            .rounds_with_ids()
            .filter(|&(round, _)| study.planned_readings(round, id) > 0)
            .last()
            .is_some_and(|(round, _)| material.readings.has_round(round)),
    })
}

fn unknown(measure: &Measure, by: Procedure) -> Known {
    Known {
        scatter: Scatter { sections: 1.0, reading: 0.0, means: 1 },
        from: match by {
            Procedure::Means if matches!(measure.kind, MeasureKind::Made(_)) => say!(
                "not known, so that all figures are in spreads of a section's number: what the gauge says of single readings is not that \
                 of {measure}, which is made of two. Give a gauge that `reads {measure}` a line `spread`, or give the command \
                 `--section-spread` and `--reading-spread`",
                measure = measure.name.value
            ),
            Procedure::Means => say!(
                "not known, so that all figures are in spreads of a section's number. Give the gauge a line `two readings agree \
                 within` or `spread`, or give the command `--section-spread` and `--reading-spread`"
            )
            .to_owned(),
            Procedure::Ranks => say!(
                "not known, so that all figures are in spreads of a section's mark. Give the command `--section-spread`, how far \
                 marks of sections treated alike lie apart"
            )
            .to_owned(),
        },
        ends: None,
        readings_alone: false,
        far: Vec::new(),
        among: (1.0, 0),
    }
}

fn measure_of(material: &Material<'_>) -> Option<MeasureId> {
    let asked = material.analysis.question.map(|question| question.measure);
    let decided = material.study.decide.as_ref().and_then(|decide| decide.measure);
    let read = |&id: &MeasureId| fewest_readings(material.study, id).is_some();
    asked.or(decided).or_else(|| material.study.measures_with_ids().map(|(id, _)| id).find(read))
}

fn this_layout(basis: &Basis<'_>) -> Part {
    let (room, unit) = (&basis.room, basis.unit);
    let name = &basis.measure.name.value;
    let spreads = basis.spreads(room);
    let figure = basis.figure(room, basis.readings);
    // Ranks need no spread, and have a smallest p instead.
    let few = room.df < FOR_WORDS && basis.by == Procedure::Means;
    let mut part = Part::new(heading(basis, figure, few));
    part.say(say!(
        "The layout, as far as {name} is read there: {products}, {each}, {bare}{others}; {readings} on each section. {degrees} for \
         the spread of {units} treated alike.",
        name,
        units = basis.units(),
        products = count(room.products.len(), "product"),
        each = each(basis),
        bare = names::bare_units(room.bare, &basis.noun),
        others = match room.others.iter().sum::<usize>() {
            0 => String::new(),
            n => say!(
                ", {sections} with the carrier alone or untouched, which are held against bare as well",
                sections = count(n, &basis.noun)
            ),
        },
        readings = count(basis.readings as usize, "reading"),
        degrees = numbers::degrees(f64::from(u32::try_from(room.df).unwrap_or(u32::MAX))),
    ));
    part.list(counted(basis, figure));
    if few {
        part.say(say!(
            "Below {n} degrees of freedom the report gives intervals and no words, so that this plan tells nothing apart, whatever \
             the figures below say. More bare {units} mend that first.",
            units = basis.units(),
            n = FOR_WORDS
        ));
    }
    part.say(say!("The scatter is {from}.", from = basis.from));
    if !basis.far.is_empty() {
        part.say(say!(
            "Far off among the readings that this comes from: {far}. Put that right first, as the findings say; the figures rest on it.",
            far = list(&basis.far, "and")
        ));
    }
    if let Some(pieces) = &basis.uneven {
        part.say(say!(
            "{which} carry the products unevenly. The report compares within them, where differences have larger errors than the \
             figures below, which count sections as if every product lay on all {pieces} alike: take them as the least.",
            which = names::capital(pieces),
            pieces
        ));
    }
    part.say(procedure(basis));
    if let Some(spreads) = spreads.filter(|_| basis.unit == basis.style.difference_unit()) {
        let unsure = basis.ends.zip(figure).map_or_else(String::new, |((low, high), figure)| {
            say!(
                " A measured spread is itself not sure: at the ends of its 95 % interval the figure is {low} and {high} {unit}.",
                low = digits(figure * low),
                high = digits(figure * high),
                unit
            )
        });
        part.say(say!(
            "That is {spreads} times the spread of a {unit}'s number, {sd}.{unsure}",
            unit = plural(1, &basis.noun),
            spreads = digits(spreads),
            sd = spread(basis.style, basis.scatter.of_section(basis.readings)),
            unsure
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
    let how = match basis.by {
        Procedure::Means => by_means(&basis.room),
        Procedure::Ranks => say!(
            ". Marks are ranked: from bare by Wilcoxon, Mann and Whitney, p after Holm for all rows of its table, as where the \
             study decides by it. The figures come from {count} simulated studies (seed {seed}) in which marks scatter by a bell \
             curve and no two are equal. Real marks are often equal, which asks for more, so take them as the least. Products are \
             not held against each other by ranks.",
            count = numbers::grouped(DRAWS.count),
            seed = DRAWS.seed
        ),
    };
    say!(
        "Every figure below is the smallest true difference that four of five such studies tell apart, by the tests of the \
         report: two-sided, 5 % for all comparisons together{how}",
        how
    )
}

/// Of means, by the spread that the report will judge by.
fn by_means(room: &Room) -> String {
    let shared = say!(
        "80 % power by the noncentral t distribution; from bare by Dunnett (1955), of two products by Tukey and Kramer (1956)"
    );
    if room.own_spreads() {
        return say!(
            ". The study says that spreads differ, and all have 4 sections or more: each treatment is judged by its own spread \
             (Games and Howell 1976), in {count} simulated studies (seed {seed}). The figures hold for two treatments that both \
             scatter by as much as is said here; of two that both scatter twice as much they are twice as large. A line with fewer \
             than 4 sections of anything is by the spread that all share ({shared}).",
            count = numbers::grouped(DRAWS.count),
            seed = DRAWS.seed,
            shared
        );
    }
    let pooled = if room.differ {
        say!(
            " The study says that spreads differ. With fewer than 4 sections to a product or to bare the report cannot follow that \
             and pools them, and so do these figures: they are too low for a product that scatters more than the others. A line \
             with 4 or more of everything is by the spread of each (Games and Howell 1976)."
        )
    } else {
        ""
    };
    format!(", {shared}.{pooled}")
}

/// What is counted, and whose the figures are where products have unequal numbers.
fn counted(basis: &Basis<'_>, figure: Option<f64>) -> Vec<String> {
    let (room, mut said) = (&basis.room, Vec::new());
    if basis.noun != "section" {
        said.push(say!(
            "The report counts {units}, since every {unit} carries one product only: so do all figures here. More sections cut from the same {unit} \
             and more readings sharpen its mean and add no {unit}.",
            units = basis.units(),
            unit = plural(1, &basis.noun)
        ));
    }
    if let Some(sites) = &basis.sites {
        said.push(say!(
            "Every treatment lies more than once at each site, so that differences are averages over these {sites}, and all figures are of that \
             average. What a product does otherwise at one site than at another is in none of them, and neither sections nor readings say how it \
             stands at another site: more sites do.",
            sites
        ));
    }
    let mut numbers = room.products.clone();
    numbers.sort_unstable();
    let (two, most) = (numbers.iter().rev().take(2).copied().collect::<Vec<_>>(), numbers.last().copied());
    let fewest = numbers.iter().take(2).copied().collect::<Vec<_>>();
    numbers.dedup();
    if numbers.len() < 2 || basis.by != Procedure::Means || figure.is_none() {
        return said;
    }
    let scatter = basis.scatter.of_section(basis.readings);
    let of = |&n: &usize| {
        let value = digits(room.smallest_for(n)? * scatter);
        Some(say!("{units} {value}", units = count(n, &basis.noun), value))
    };
    said.push(say!(
        "Products have unequal numbers of {units}: the figure from bare is that of the one with the fewest, and so is every such figure below. By \
         number: {figures} {unit}.",
        units = basis.units(),
        figures = numbers.iter().filter_map(of).collect::<Vec<_>>().join(", "),
        unit = basis.unit
    ));
    if let (&[one, other], &[low, high], Some(_)) = (two.as_slice(), fewest.as_slice(), most)
        && let (Some(least), Some(far)) = (basis.two(room, (one, other)), basis.two(room, (low, high)))
    {
        said.push(say!(
            "Of two products the figure is that of the two with the fewest ({low} and {high}), {far} {unit}; of the two with the most ({other} and {one}) \
             it is {least} {unit}.",
            low,
            high,
            far = digits(far),
            other,
            one,
            least = digits(least),
            unit = basis.unit
        ));
    }
    said
}

fn each(basis: &Basis<'_>) -> String {
    let room = &basis.room;
    let (fewest, most) = (room.products.iter().min(), room.products.iter().max());
    match (fewest, most) {
        (Some(fewest), Some(most)) if fewest == most => {
            say!("{sections} each", sections = count(*fewest, &basis.noun))
        }
        (Some(fewest), Some(most)) => {
            say!("{fewest} to {most} {units} each", fewest, most, units = basis.units())
        }
        _ => say!("no section").to_owned(),
    }
}

/// How the figure stands to the declared limits.
fn limits(basis: &Basis<'_>, figure: Option<f64>) -> Vec<String> {
    let Some(figure) = figure.filter(|_| basis.unit == basis.style.difference_unit()) else {
        return Vec::new();
    };
    let text = |limit: f64| basis.style.value(limit).text;
    let seen = basis.measure.seen.as_ref().map(|limit| {
        let value = text(limit.value);
        if figure <= limit.value {
            say!("An eye sees {value}: what is seen is told apart.", value)
        } else {
            say!("An eye sees {value}: a difference that is seen may be missed.", value)
        }
    });
    let alike = basis.measure.alike.as_ref().map(|limit| {
        let value = text(limit.value);
        if figure <= limit.value {
            say!("A difference does not matter up to {value}: whatever matters is told apart.", value)
        } else {
            say!(
                "A difference does not matter up to {value}: some differences that matter will not be settled.",
                value
            )
        }
    });
    seen.into_iter().chain(alike).collect()
}

/// The numbers of sections for each product, and of bare ones beside them, that the table shows.
const EACH: std::ops::RangeInclusive<usize> = 1..=4;
const BESIDE: [usize; 4] = [2, 4, 6, 8];

fn sections(basis: &Basis<'_>) -> Part {
    let products = basis.room.products.len();
    let mut part =
        Part::new(say!("{which} for each product, and bare ones", which = names::capital(&basis.units())));
    part.say(say!(
        "Told apart from bare, in {unit}, for {products} with as many {units} each and {readings} on each section.",
        units = basis.units(),
        unit = basis.unit,
        products = count(products, "product"),
        readings = count(basis.readings as usize, "reading")
    ));
    let mut heads = vec![say!(">{units} each", units = basis.units())];
    heads.extend(BESIDE.iter().map(|bare| say!(">{bare} bare", bare)));
    let mut table = Table::new(&heads);
    for each in EACH {
        let mut row: Vec<Figure> = vec![each.to_string().into()];
        let told = |&bare: &usize| figure(basis.figure(&basis.even(products, each, bare), basis.readings));
        row.extend(BESIDE.iter().map(told));
        table.row(row);
    }
    part.table(table);
    part
}

fn falls(percent: f64) -> String {
    if percent < 1.0 {
        say!("the figure falls by less than 1 %").to_owned()
    } else {
        say!("the figure falls by {percent} %", percent = numbers::fixed(percent, 0))
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
        _ if basis.readings_alone => say!("Readings on each section").to_owned(),
        (Some(reading), Some(section)) if reading >= section => {
            say!("One more reading buys more than one more {unit}", unit = plural(1, &basis.noun))
        }
        (Some(_), Some(_)) => {
            say!("One more {unit} buys more than one more reading", unit = plural(1, &basis.noun))
        }
        _ => say!("Readings on each section").to_owned(),
    });
    let buys = [
        (reading, say!("one more reading on every section").to_owned()),
        (section, say!("one more {unit} for every product", unit = plural(1, &basis.noun))),
        (bare, say!("one more bare {unit}", unit = plural(1, &basis.noun))),
    ];
    part.list(
        buys.into_iter()
            .filter(|_| !basis.readings_alone)
            .filter_map(|(share, what)| Some(format!("{what}: {}", falls(share?))))
            .map(|text| names::capital(&text) + ".")
            .collect(),
    );
    let mut numbers = vec![1, 2, 3, 5, 8, 12, basis.readings];
    numbers.sort_unstable();
    numbers.dedup();
    let of = basis.style.difference_unit();
    let spread = say!(">spread of a {unit}, {of}", unit = plural(1, &basis.noun), of);
    let mut table = basis.table(&[say!(">readings").to_owned(), spread]);
    for number in numbers {
        let mark = if number == basis.readings { say!("as planned") } else { "" };
        let first = vec![number.to_string().into(), figure(Some(basis.scatter.of_section(number)))];
        basis.row(&mut table, first, (&basis.room, number), mark);
    }
    part.table(table);
    if basis.readings_alone {
        part.say(say!(
            "That is the most that readings can buy. What {units} differ by is not known yet, and readings do nothing about it, so that \
             nothing is said here on readings against {units}.",
            units = basis.units()
        ));
    }
    part
}
