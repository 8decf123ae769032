//! Empty sheets: every section of a round in the order of the map, or every place of a reading of the preparation.

use super::checklist::{
    UNNAMED_PLACES, after_prep, at_round, at_sites, cycle_begins, cycles_end, is_pulled, kind_of_place, title,
};
use super::due::SheetOf;
use super::material::Material;
use super::names;
use super::numbers;
use super::prepared::facts_line;
use super::safety;
use crate::hands;
use crate::speech::{self, count, list, plural, said, say, speak};
use crate::study::{
    Anchor, Gauge, MeasureId, MeasureKind, NoteOn, Placing, Round, RoundId, SectionId, SiteId, Step, Study,
    Treatment,
};
use serde::Serialize;

/// A sheet to fill in, on paper or in a table.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SheetView {
    /// The file name without its ending: `sheet-month-6`.
    pub stem: String,
    /// Title of the study.
    pub study: String,
    /// The round.
    pub round: String,
    /// The round as the page says it.
    pub round_said: String,
    /// When it is read, one sentence.
    pub when: String,
    /// What keeps whoever reads from harm: at the sites of the round, and of what is read.
    pub cautions: Vec<String>,
    /// What the study says of its rounds, Markdown; empty where it says nothing.
    pub prose: String,
    /// What is done to the panel before reading, one line each.
    pub before: Vec<String>,
    /// True where a measure of the study is read by several gauges, so that each row has to name its own.
    pub names_gauge: bool,
    /// How many readings the widest row has room for.
    pub readings: u32,
    /// One for each measure, in the order in which the round reads them.
    pub measures: Vec<SheetMeasure>,
    /// The day of the page: `as of 2026-04-13`.
    pub as_of: String,
    /// Version of the tool.
    pub version: String,
}

/// A measure of a sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SheetMeasure {
    /// Its name.
    pub name: String,
    /// Its unit, as the table has it.
    pub unit: String,
    /// The same as it is printed.
    pub printed_unit: String,
    /// How many readings of what, and with which gauges: one sentence.
    pub what: String,
    /// Readings on each section.
    pub readings: u32,
    /// What its gauge is checked on, with room for what it reads there; empty where an eye reads it.
    pub check: String,
    /// Whether a dolly is pulled, so that each line has room for where it broke.
    pub pulled: bool,
    /// What a line of it is: `section`, or `specimen` for a set beside the panel.
    pub place: String,
    /// What the study says of the measure, Markdown; empty where it says nothing.
    pub prose: String,
    /// The marks of a scale and their words, a line each.
    pub scale: Vec<String>,
    /// How many people fill in a sheet each; 1 where nothing else was said.
    pub raters: u32,
    /// The sections or specimens, in the order of the map.
    pub sections: Vec<String>,
    /// The same by their sites: each is read by itself, perhaps on another day and by somebody else.
    pub parts: Vec<SheetPart>,
    /// What is written above each column where the study does not say it: which specimen it is.
    pub columns: String,
    /// Whether each line has room for when its patch was marked and cleaned: every patch has its own time.
    pub timed: bool,
    /// The gauges whose tile is read with it, by the names that a table has, where one has a tile.
    pub tiles: Vec<String>,
}

/// The lines of one site.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SheetPart {
    /// The site; empty where the study has one.
    pub site: String,
    /// The sections or specimens there.
    pub sections: Vec<String>,
}

/// Makes a sheet.
pub fn sheet(material: &Material<'_>, of: SheetOf) -> SheetView {
    let _speech = speak(material.study.language);
    match of {
        SheetOf::Round(id) => of_round(material, id),
        SheetOf::Prep(at) => of_prep(material, at),
    }
}

/// The places of the whole panel at a `read` step of the preparation: a column for each, the same at every step.
fn of_prep(material: &Material<'_>, at: usize) -> SheetView {
    let study = material.study;
    let step = study.prep.iter().enumerate().filter(|(_, step)| step.measure.is_some()).nth(at);
    let measures = step.into_iter().filter_map(|(_, step)| prep_measure(study, step)).collect::<Vec<_>>();
    let number = at + 1;
    SheetView {
        stem: format!("sheet-prep-{number}"),
        study: study.title.value.clone(),
        round: format!("prep {number}"),
        round_said: say!("prep {step}", step = number),
        when: step.map_or_else(String::new, |(at, step)| {
            say!(
                "Read at step {number} of the preparation, {title}.",
                number = at + 1,
                title = title(study, step)
            )
        }),
        cautions: step
            .and_then(|(_, step)| step.measure.as_ref())
            .map_or_else(Vec::new, |measure| of_measures(material, [measure.value].into_iter())),
        prose: String::new(),
        before: Vec::new(),
        names_gauge: names_gauge(study),
        readings: measures.iter().map(|measure| measure.readings).max().unwrap_or(0),
        measures,
        as_of: material.as_of(),
        version: material.version.to_owned(),
    }
}

fn prep_measure(study: &Study, step: &Step) -> Option<SheetMeasure> {
    let id = step.measure.as_ref()?.value;
    let measure = study.measure(id);
    // As many as the checklist has lines for; a line holds one reading of each.
    let (places, lines) = (step.places.unwrap_or(UNNAMED_PLACES), step.times);
    let (sections, is_rack) = (vec!["panel".to_owned(); lines as usize], study.is_on_racks());
    Some(SheetMeasure {
        name: measure.name.value.clone(),
        unit: measure.unit.symbol.clone(),
        printed_unit: speech::unit(&measure.unit.symbol).to_owned(),
        readings: places,
        what: if is_rack {
            say!("A column is one specimen, with the same number at every step: write above it which it is.")
                .to_owned()
        } else {
            say!(
                "A column is a place of the panel, with the same number at every step: {places}. Mark them on the map.",
                places = count(places as usize, "place")
            )
        },
        check: check(study, id),
        pulled: is_pulled(study, id),
        place: if is_rack { say!("rack") } else { say!("panel") }.to_owned(),
        prose: study.prose_of_measure(id),
        scale: Vec::new(),
        raters: 1,
        parts: vec![SheetPart { site: String::new(), sections: sections.clone() }],
        sections,
        columns: if is_rack { plural(1, "specimen") } else { String::new() },
        timed: false,
        tiles: Vec::new(),
    })
}

/// The cautions of the sites where a round is read, then those of what it reads: the sheet goes there without the checklist.
fn cautions(material: &Material<'_>, round: &Round) -> Vec<String> {
    let there = at_round(material.study, material.catalog, round).into_iter();
    there.chain(of_measures(material, round.reads.iter().map(|plan| plan.measure.value))).collect()
}

fn of_measures(material: &Material<'_>, measures: impl Iterator<Item = MeasureId>) -> Vec<String> {
    let (study, catalog) = (material.study, material.catalog);
    let mut told: Vec<String> = Vec::new();
    for id in measures {
        let work = safety::of_reading(catalog, study, id).into_iter().map(|own| said(own.text).to_owned());
        let pulled = is_pulled(study, id).then(|| {
            say!(
                "{measure}: closed glasses and gloves on before the glue is opened and while it is pulled: a dolly flies off, glue burns \
                 and edges cut. Nobody in line with it. Write down where it broke.",
                measure = study.measure(id).name.value
            )
        });
        for text in work.chain(pulled) {
            if !told.contains(&text) {
                told.push(text);
            }
        }
    }
    told
}

// A measure that several gauges read is told with its gauge on each row.
fn names_gauge(study: &Study) -> bool {
    study.measures_with_ids().any(|(measure, _)| study.gauges_of(measure).count() > 1)
}

fn of_round(material: &Material<'_>, id: RoundId) -> SheetView {
    let study = material.study;
    let round = study.round(id);
    let measures: Vec<SheetMeasure> = round
        .reads
        .iter()
        .map(|plan| sheet_measure(material, id, (plan.measure.value, plan.times)))
        .collect();
    SheetView {
        stem: stem(study, id),
        study: study.title.value.clone(),
        round: round.name.value.clone(),
        round_said: names::round(study, id).into_owned(),
        when: std::iter::once(when(study, round))
            .chain(after_prep(study, round))
            .collect::<Vec<_>>()
            .join(" "),
        cautions: cautions(material, round),
        prose: study.prose_on(NoteOn::Rounds),
        before: before(study, round),
        names_gauge: names_gauge(study),
        readings: measures.iter().map(|measure| measure.readings).max().unwrap_or(0),
        measures,
        as_of: material.as_of(),
        version: material.version.to_owned(),
    }
}

fn sheet_measure(material: &Material<'_>, at: RoundId, (id, readings): (MeasureId, u32)) -> SheetMeasure {
    let study = material.study;
    let measure = study.measure(id);
    let gauges: Vec<&str> = study.gauges_of(id).map(Gauge::title).collect();
    let scale = if let MeasureKind::Rating(scale) = &measure.kind { Some(scale) } else { None };
    let mark = |(mark, word): &(f64, String)| format!("{}: {word}", numbers::decimal(*mark));
    let there: Vec<SectionId> = places(study, study.round(at), id)
        .filter(|&place| !material.readings.stopped(study, place, at))
        .collect();
    let place = kind_of_place(study, id);
    SheetMeasure {
        name: measure.name.value.clone(),
        unit: measure.unit.symbol.clone(),
        printed_unit: speech::unit(&measure.unit.symbol).to_owned(),
        readings,
        what: what(&count(readings as usize, "reading"), &place, &gauges),
        check: check(study, id),
        pulled: is_pulled(study, id),
        place,
        prose: study.prose_of_measure(id),
        scale: scale.map_or_else(Vec::new, |scale| scale.words.iter().map(mark).collect()),
        raters: scale.and_then(|scale| scale.raters).unwrap_or(1),
        sections: there.iter().map(|&place| names::section(study, place).to_owned()).collect(),
        parts: parts(study, &there),
        columns: String::new(),
        timed: is_timed(study, study.round(at), id),
        tiles: tiles(study, at, id),
    }
}

/// The first of the measures of a cycle that is read on a kind of patch.
fn is_timed(study: &Study, round: &Round, id: MeasureId) -> bool {
    let home = study.measure(id).home.filter(|set| study.specimens[set.index()].patch);
    let mut read = round.reads.iter().map(|plan| plan.measure.value);
    let first = home.and_then(|_| read.find(|&own| study.measure(own).home == home));
    matches!(round.placing, Placing::Cycle(_)) && first == Some(id)
}

/// The sections of each site in its turn.
fn parts(study: &Study, there: &[SectionId]) -> Vec<SheetPart> {
    let site = |id: SectionId| study.section(id).site;
    let mut sites: Vec<Option<SiteId>> = Vec::new();
    for &id in there {
        if !sites.contains(&site(id)) {
            sites.push(site(id));
        }
    }
    let part = |own: Option<SiteId>| SheetPart {
        site: own.map(|own| study.sites[own.index()].value.clone()).unwrap_or_default(),
        sections: there
            .iter()
            .filter(|&&id| site(id) == own)
            .map(|&id| names::section(study, id).to_owned())
            .collect(),
    };
    sites.into_iter().map(part).collect()
}

/// The gauges with a tile for a measure; of a measure that patches part it is read with the first of them.
fn tiles(study: &Study, at: RoundId, id: MeasureId) -> Vec<String> {
    let measure = study.measure(id);
    let is_first = measure.of.is_none_or(|of| {
        let all = study.round(at).reads.iter().map(|plan| plan.measure.value);
        all.into_iter().find(|&own| study.measure(own).of == Some(of)) == Some(id)
    });
    let gauges = study
        .gauges_of(id)
        .filter(|gauge| is_first && gauge.tile.is_some_and(|tile| tile.value_for(measure).is_some()));
    gauges.map(|gauge| gauge.name.value.clone()).collect()
}

/// `tile 91.8 GU, read`: what a true gauge reads on its tile.
fn check(study: &Study, id: MeasureId) -> String {
    let measure = study.measure(id);
    let mut tiles: Vec<String> = Vec::new();
    for value in study.gauges_of(id).filter_map(|gauge| gauge.tile?.value_for(measure)) {
        let tile = numbers::with_unit(&numbers::decimal(value), &measure.unit.symbol);
        if !tiles.contains(&tile) {
            tiles.push(tile);
        }
    }
    match (study.gauges_of(id).next(), tiles.as_slice()) {
        (None, _) => String::new(),
        (Some(_), []) => say!("gauge checked on").to_owned(),
        (Some(_), tiles) => {
            let within = study
                .gauge_limit(id)
                .map(|limit| numbers::with_unit(&numbers::decimal(limit), &measure.unit.symbol));
            // Farther off than two readings may lie apart, it is no scatter any more. Common practice, no source.
            let within = within
                .map_or_else(String::new, |limit| say!(" (off by more than {limit}: set it anew)", limit));
            say!("tile of {tiles}{within}, read", tiles = tiles.join(", "), within)
        }
    }
}

fn what(readings: &str, place: &str, gauges: &[&str]) -> String {
    if gauges.is_empty() {
        say!("{readings} on each {place}.", readings, place)
    } else {
        say!("{readings} on each {place}, read with {gauges}.", readings, place, gauges = list(gauges, "or"))
    }
}

/// Where the round can still read a measure: what the log ended before it is left out.
fn places(study: &Study, round: &Round, measure: MeasureId) -> impl Iterator<Item = SectionId> {
    let there = |id| match (study.ended(id), round.window) {
        (Some(end), Some(window)) => end > window.last,
        (Some(_), None) => false,
        (None, _) => true,
    };
    let known = study.places_of(measure).filter(|(_, place)| place.treatment != Treatment::Unknown);
    known.map(|(id, _)| id).filter(move |&id| there(id))
}

fn when(study: &Study, round: &Round) -> String {
    if !round.at_sites.is_empty() {
        return say!("Planned for {sites}.", sites = list(&at_sites(study, round), "and"));
    }
    match round.window {
        Some(window) if window.first == window.last => {
            say!("Planned for {day}.", day = numbers::day(window.date))
        }
        Some(window) => {
            say!(
                "Planned for {day}; any day from {first} to {last}.",
                day = numbers::day(window.date),
                first = numbers::day(window.first),
                last = numbers::day(window.last)
            )
        }
        None => match round.placing {
            Placing::Cycle(number) => of_cycle(study, number),
            _ => say!("It has no day yet.").to_owned(),
        },
    }
}

/// What a cycle waits for: the first one for the coats, each other one for the cycle before it.
fn of_cycle(study: &Study, number: u32) -> String {
    let days = hands::cycles(study);
    let begins = if number == 1 {
        days.as_ref().map(cycle_begins)
    } else {
        Some(say!("It begins when cycle {before} is read.", before = number - 1))
    };
    let ends = days.as_ref().and_then(cycles_end);
    begins.into_iter().chain(ends).collect::<Vec<String>>().join(" ")
}

// A round directly after a step of preparation is read on a surface that was just prepared.
fn before(study: &Study, round: &Round) -> Vec<String> {
    if matches!(round.placing, Placing::At(Anchor::Step(_))) {
        return Vec::new();
    }
    let steps = study.before_each_round.iter();
    let line = |step| match facts_line(study, step) {
        // A rinse is nothing but its name.
        facts if facts.is_empty() || facts.to_lowercase() == title(study, step).to_lowercase() => {
            title(study, step)
        }
        facts => format!("{} ({facts})", title(study, step)),
    };
    steps.map(line).collect()
}

/// `sheet-month-6`; where two names differ in blanks and hyphens only, the later one gets a number.
fn stem(study: &Study, id: RoundId) -> String {
    let plain = |name: &str| name.split_whitespace().collect::<Vec<_>>().join("-");
    let own = plain(names::round_written(study, id));
    let earlier = study.rounds.iter().take(id.index()).filter(|round| plain(&round.name.value) == own);
    match earlier.count() {
        0 => format!("sheet-{own}"),
        n => format!("sheet-{own}-no-{}", n + 1),
    }
}
