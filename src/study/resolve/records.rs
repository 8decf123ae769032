//! Records and reasons: readings files and what they leave out, what was done, incidents, waivers.

use super::values::AIR;
use super::{Resolver, same_name};
use crate::diag::Finding;
use crate::study::{
    Done, DoneWhat, LeaveOut, LogEntry, Reach, ReadingsFile, SectionId, SpecimensId, Step, Treatment, Verb,
    Waiver,
};
use crate::syntax::{Args, Block, BlockKind, Clause, Clauses, Statement};
use crate::text::Located;
use crate::units::{Dimension, Humidity, Range, Temperature};
use jiff::civil::{Date, Time as ClockTime};

impl Resolver<'_> {
    pub(super) fn records(&mut self) {
        for block in self.blocks(BlockKind::Readings) {
            self.study.readings_blocks += 1;
            if let Some(file) = self.readings_file(block)
                && !self.is_read_already(&file)
            {
                self.study.readings.push(file);
            }
        }
        let photos = self.block(BlockKind::Photos).and_then(|block| block.head.as_ref());
        self.study.photos = photos.and_then(Args::text).map(|folder| folder.map(str::to_owned));
        let pages = self.block(BlockKind::Pages).and_then(|block| block.head.as_ref());
        self.study.pages = pages.and_then(Args::text).map(|folder| folder.map(str::to_owned));
        for block in self.blocks(BlockKind::Climate) {
            if let Some(file) = self.climate_file(block) {
                self.study.climate.push(file);
            }
        }
        for block in self.blocks(BlockKind::Log) {
            if let Some(entry) = block.head.as_ref().and_then(|head| self.log_entry(head))
                && !self.is_later(entry.date.value)
            {
                self.study.log.push(entry);
            }
        }
        for block in self.blocks(BlockKind::Allow) {
            if let Some(waiver) = block.head.as_ref().and_then(waiver) {
                self.study.waivers.push(waiver);
            }
        }
    }

    /// A file that two blocks name would count every reading twice.
    fn is_read_already(&mut self, file: &ReadingsFile) -> bool {
        let path = |file: &ReadingsFile| {
            let name = file.name.value.replace('\\', "/");
            name.split('/').filter(|part| !matches!(*part, "" | ".")).collect::<Vec<_>>().join("/")
        };
        let first =
            self.study.readings.iter().find(|known| path(known) == path(file)).map(|known| known.name.span);
        if let Some(first) = first {
            let message = format!("`{}` is read already", file.name.value);
            self.findings.push(
                Finding::error("duplicate-name", file.name.span, message)
                    .related(first, "first here")
                    .help("keep one of the two blocks, with the lines of both below it"),
            );
        }
        first.is_some()
    }

    fn readings_file(&mut self, block: &Block) -> Option<ReadingsFile> {
        let name = block.head.as_ref()?.text()?.map(str::to_owned);
        let before = self.mark();
        let home = block.head.as_ref().and_then(|head| head.clause("home")).and_then(Args::name);
        let site = home.and_then(|name| self.site_id(name.value)).filter(|_| self.study.grids.len() > 1);
        let home = home.filter(|_| site.is_none()).and_then(|name| self.specimens_id(name));
        let mut file = ReadingsFile {
            name,
            home,
            site,
            columns: Vec::new(),
            leave_out: Vec::new(),
            broken: block.broken,
        };
        for line in &block.children {
            match line.verb.as_str() {
                "column" => {
                    if let (Some(heading), Some(meaning)) = (line.text(), line.name()) {
                        file.columns.push((heading.map(str::to_owned), meaning.value.to_lowercase()));
                    }
                }
                "leave" => file.leave_out.extend(self.leave_out(line)),
                _ => {}
            }
        }
        file.broken |= self.failed_since(before);
        Some(file)
    }

    fn leave_out(&mut self, line: &Statement) -> Option<LeaveOut> {
        let names = line.names();
        let &[measure, section, round] = names.as_slice() else { return None };
        let measure = self.measure_id(measure);
        let section = self.section_id(section);
        let round = self.round_id(round);
        let reading = match line.clause("reading").and_then(Args::number) {
            Some(number) => Some(self.whole(number, 1)?),
            None => None,
        };
        let measure = measure?;
        let measure = section.map_or(measure, |section| self.study.measure_at(measure, section));
        let unit = self.study.measure(measure).unit.clone();
        let value = match line.clause("value").and_then(|value| value.quantities().into_iter().next()) {
            Some(quantity) => Some(self.in_measure(quantity, &unit)?),
            None => None,
        };
        let because = line.clause("because").and_then(Args::text).map(|text| text.value.to_owned());
        if because.is_none() {
            self.findings.push(
                Finding::error(
                    "left-out-without-reason",
                    line.span,
                    "a reading is left out without a reason",
                )
                .help("end the line with `because \"...\"`"),
            );
        }
        if reading.is_none() && value.is_none() {
            self.findings.push(
                Finding::error("left-out-unnamed", line.span, "nothing says which reading is left out")
                    .help("name its number or its value, as `reading 2, 58.7 GU`"),
            );
            return None;
        }
        let (section, round, because) = (section?, round?, because.unwrap_or_default());
        Some(LeaveOut { measure, section, round, reading, value, because, span: line.span })
    }

    pub(super) fn done(&mut self) {
        for block in self.blocks(BlockKind::Done) {
            let Some(done) = block.head.as_ref().and_then(|line| self.record(line)) else {
                self.study.done_broken = true;
                continue;
            };
            let Some(line) = block.head.as_ref() else { continue };
            if self.is_later(done.date.value) {
                continue;
            }
            match line.clause("ahead").and_then(Args::name) {
                Some(round) => self.parked.push((done, round.map(str::to_owned))),
                None => self.study.done.push(done),
            }
        }
        for block in self.blocks(BlockKind::Record) {
            self.record_file(block);
        }
    }

    fn record(&mut self, line: &Statement) -> Option<Done> {
        let date = self.date(line);
        let mut times = line.times().into_iter();
        let time = times.next().and_then(|time| self.clock(time));
        let until = times.next().and_then(|time| self.clock(time));
        // What else is wrong with the line is told although its day is.
        let done = self.done_of((date.unwrap_or(Located::new(Date::ZERO, line.span)), time, until), line);
        date.and(done)
    }

    /// What a line says was done on a day, from one hour to another.
    pub(super) fn done_of(
        &mut self,
        (date, time, until): (Located<Date>, Option<ClockTime>, Option<ClockTime>),
        line: &Statement,
    ) -> Option<Done> {
        let what = match (line.clause("coat"), line.clause("did")) {
            (Some(coat), _) => {
                let number = self.whole(coat.number()?, 1);
                let name = coat.name()?;
                let product = self.bound_product(name);
                DoneWhat::Coat(number?, Located::new(product?, name.span))
            }
            (None, did) => DoneWhat::Prep(Verb::of(did?.word()?)?),
        };
        if let (Some(began), Some(ended)) = (time, until)
            && ended < began
        {
            let message = format!("this ends at {} and begins at {}", hour(ended), hour(began));
            self.findings.push(Finding::error("ends-before-it-begins", line.span, message).help(
                "write the earlier time first; what goes on past midnight is two records, one for each day",
            ));
        }
        let used = line.clause("used").and_then(|used| used.quantities().into_iter().next());
        let used = used.and_then(|used| self.any_of(used, &[Dimension::Volume, Dimension::Mass]));
        let named = line.clause("spot").map(Args::names).unwrap_or_default();
        let (set, sections) = self.spot(&what, named);
        let (mut at, mut humidity) = (None, None);
        for quantity in line.clause("at").map(Args::quantities).unwrap_or_default() {
            let written = quantity.value.unit.as_ref().map_or("", |unit| unit.value.as_str());
            if written.starts_with('%') {
                humidity = self.one::<Humidity>(quantity);
            } else {
                let one = self.one::<Temperature>(quantity).map(|one| Range { low: one, high: one });
                at = one.and_then(|one| self.in_sense(quantity.span, one, AIR)).map(|one| one.low);
            }
        }
        let skin = line.clause("skin").and_then(|skin| skin.quantities().into_iter().next());
        let surface = skin.and_then(|skin| self.surface_temperature(skin));
        let words = |name: &str| line.clause(name).and_then(Args::text).map(|text| text.value.to_owned());
        let (by, because) = (words("by"), words("because"));
        let (step, ahead, place) = (None, None, line.span.into());
        let upkeep = line.clause("kept").is_some();
        Some(Done {
            date,
            time,
            until,
            what,
            step,
            ahead,
            set: set.filter(|_| !upkeep),
            upkeep,
            sections,
            used,
            at,
            humidity,
            surface,
            by,
            because,
            place,
        })
    }

    /// Where something was done: the set of specimens whose preparation it is of, and the sections and specimens that are named.
    /// A set may stand for all its specimens; a step that only one set has is of that set.
    fn spot(&mut self, what: &DoneWhat, named: Vec<Located<&str>>) -> (Option<SpecimensId>, Vec<SectionId>) {
        let (mut set, mut sections) = (None, Vec::new());
        for name in named {
            let Some(own) = self.set_named(name.value) else {
                sections.extend(self.section_id(name));
                continue;
            };
            match what {
                DoneWhat::Coat(_, product) => {
                    let coated = self.study.carriers_of(Treatment::Product(product.value));
                    let coated = coated.filter(|(_, place)| place.specimen == Some(own));
                    sections.extend(coated.map(|(id, _)| id));
                }
                DoneWhat::Prep(_) => set = Some(own),
            }
        }
        sections.sort_unstable();
        sections.dedup();
        if let (DoneWhat::Prep(verb), None) = (what, set) {
            let loose = |set: SpecimensId| !self.study.specimens[set.index()].patch;
            let own =
                sections.first().and_then(|&id| self.study.section(id).specimen).filter(|set| loose(*set));
            set = own.or_else(|| self.only_set_with(*verb).filter(|_| sections.is_empty()));
        }
        (set, sections)
    }

    /// The set of loose specimens of a name, unless a section is called so.
    pub(super) fn set_named(&self, name: &str) -> Option<SpecimensId> {
        let sets = &self.study.specimens;
        let own = sets.iter().position(|set| !set.patch && same_name(&set.name.value, name));
        let is_section = self.study.places().any(|(_, place)| same_name(&place.code, name));
        own.filter(|_| !is_section).map(SpecimensId::new)
    }

    /// The set that has a step which nothing else of the plan has.
    fn only_set_with(&self, verb: Verb) -> Option<SpecimensId> {
        let study = &self.study;
        let has = |steps: &[Step]| steps.iter().any(|step| step.verb == verb);
        let mut sets = study.specimens.iter().enumerate().filter(|(_, set)| has(&set.prep));
        let own = sets.next().filter(|_| sets.next().is_none())?.0;
        (!has(&study.prep) && !has(&study.before_each_round)).then(|| SpecimensId::new(own))
    }

    fn log_entry(&mut self, line: &Statement) -> Option<LogEntry> {
        let date = self.date(line);
        let reach = self.reach(line.clause("reach")?)?;
        let text = line.text()?.value.to_owned();
        Some(LogEntry { date: date?, reach, text, ends: line.clause("ends").is_some(), span: line.span })
    }

    pub(super) fn reach(&mut self, clause: &Clause) -> Option<Reach> {
        let names = clause.names();
        if clause.has("all") || names.first().is_some_and(|name| name.value.eq_ignore_ascii_case("all")) {
            return Some(Reach::All);
        }
        if clause.has("product") {
            let id = self.bound_product(*names.first()?)?;
            let sections =
                self.study.carriers_of(Treatment::Product(id)).map(|(section, _)| section).collect();
            return Some(Reach::Sections(sections));
        }
        if clause.has("row") {
            return self.row(*names.first()?);
        }
        // A whole site, where the word is no section.
        if let [name] = names.as_slice()
            && let Some(site) = self.site_id(name.value)
        {
            let single = self.study.grids.len() < 2;
            let at_site =
                self.study.sections_with_ids().filter(|(_, section)| single || section.site == Some(site));
            return Some(Reach::Sections(at_site.map(|(section, _)| section).collect()));
        }
        let mut sections = Vec::new();
        for name in names {
            sections.push(self.section_id(name)?);
        }
        Some(Reach::Sections(sections))
    }

    fn row(&mut self, letter: Located<&str>) -> Option<Reach> {
        let wanted = letter.value.to_uppercase();
        if self.study.grids.len() > 1 {
            let site = self.study.sites.first().map_or("", |site| site.value.as_str());
            let help = format!("name the sections, as `{site} {wanted}1 and {site} {wanted}2`");
            self.findings.push(
                Finding::error("site-not-said", letter.span, "each site has rows of its own").help(help),
            );
            return None;
        }
        let in_row = |code: &str| code.trim_end_matches(|c: char| c.is_ascii_digit()) == wanted;
        let drawn = self
            .study
            .sections_with_ids()
            .filter(|(_, section)| section.row.is_some() && in_row(&section.code));
        let sections: Vec<SectionId> = drawn.map(|(id, _)| id).collect();
        if sections.is_empty() && !self.study.map_broken {
            self.findings.push(
                Finding::error(
                    "undefined-name",
                    letter.span,
                    format!("the map has no row `{}`", letter.value),
                )
                .help("rows are lettered from A at the top"),
            );
            return None;
        }
        Some(Reach::Sections(sections))
    }
}

fn hour(time: ClockTime) -> String {
    format!("{:02}:{:02}", time.hour(), time.minute())
}

fn waiver(line: &Statement) -> Option<Waiver> {
    let code = line.text()?;
    let code =
        Located::new(code.value.split_whitespace().collect::<Vec<_>>().join("-").to_lowercase(), code.span);
    let places = line.clause("spots").map(Args::names).unwrap_or_default();
    let places = places.into_iter().map(|place| place.map(str::to_owned)).collect();
    let because = line.clause("because").and_then(Args::text).map(|text| text.value.to_owned());
    Some(Waiver { code, places, because, span: line.span })
}
