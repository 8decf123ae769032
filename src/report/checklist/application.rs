//! The application: the day, the climate, and a step for each product, or for each coat where coats are unlike or days apart.

use super::super::numbers;
use super::super::safety::{self, Card, Entry};
use super::amounts::{self, mix_text};
use super::carrier;
use super::climate;
use super::edges;
use super::lines::{heads, texts};
use super::steps::section_list;
use super::tape::{is_taped, labels_kept, pull, tape_off};
use super::view::{Group, StepView};
use super::work::wiped_again;
use crate::catalog::Catalog;
use crate::hands::{Planned, planned};
use crate::speech::{self, count, list, plural, said, say};
use crate::study::{
    Coat, DoneWhat, NoteOn, Product, ProductId, Section, SpecimensId, Study, TapeOff, Treatment,
};
use crate::units::{Dimension, Range, Time};
use jiff::civil::{Date, DateTime};

/// What one step puts on: a product with all its coats, or one coat of it.
#[derive(Clone, Copy)]
struct Work<'s> {
    id: ProductId,
    product: &'s Product,
    /// The coat by its number, where it has a step of its own.
    coat: Option<u32>,
    /// When it goes on, by the record as far as it goes, then by the plan.
    at: Option<DateTime>,
}

pub(super) fn application(study: &Study, catalog: &Catalog) -> Group {
    let placed = study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id));
    let planned = planned(study);
    let mut works: Vec<Work<'_>> = placed.flat_map(|(id, product)| works(&planned, id, product)).collect();
    let apart = works.iter().any(|work| work.coat.is_some());
    if apart {
        // Stable, so that coats of one moment keep the order of the products.
        works.sort_by_key(|work| work.at);
    }
    let mut steps: Vec<StepView> = works
        .iter()
        .enumerate()
        .map(|(at, work)| StepView { number: at + 1, ..work.view(study, catalog) })
        .collect();
    steps.extend(carrier::step(study, catalog, steps.len() + 1));
    steps.extend(pull(study, steps.len() + 1));
    let climate = (!works.is_empty()).then(|| climate::view(study, catalog, coated_on(study, &planned)));
    let days = if apart { days(&works) } else { Vec::new() };
    let edges = edges::untaped(study).filter(|_| !edges::are_told_at_baseline(study));
    let lines = edges
        .into_iter()
        .chain(off_its_place(study))
        .chain(day(study))
        .chain(as_recorded(study, &works))
        .chain(wipe_again(study))
        .chain(days)
        .chain(goes_on(&works))
        .chain(wetted(study, catalog, &works))
        .chain(stays_bare(study))
        .chain(lines_of(study, &steps))
        .chain(tape_off(study))
        .chain(labels_moved(study))
        .collect();
    let prose = study.prose_on(NoteOn::Application);
    Group { title: say!("Application").into(), lines, prose, climate, steps, ..Group::default() }
}

/// The steps of a product: one, or one for each coat where they are unlike or fall on several days.
fn works<'s>(planned: &Planned<'_>, id: ProductId, product: &'s Product) -> Vec<Work<'s>> {
    let at = |coat| planned.coat_at(id, coat);
    let on = |coat| at(coat).map(DateTime::date);
    let number = product.coats_number();
    if product.coats_differ() || on(1) != on(number) {
        (1..=number).map(|coat| Work { id, product, coat: Some(coat), at: at(coat) }).collect()
    } else {
        vec![Work { id, product, coat: None, at: at(1) }]
    }
}

/// The second wipe has its place before the first coat, and all that holds of the first.
fn wipe_again(study: &Study) -> Option<String> {
    let at = wiped_again(study)?;
    let wait = study.prep[at].wait.map(|wait| say!(" Wait {time} after it.", time = numbers::amount(&wait)));
    let (n, wait) = (at + 1, wait.unwrap_or_default());
    Some(if is_taped(study) {
        say!(
            "Where a night has passed since step {n} of the preparation: do that step once more before the first coat, inside the tape and not over it, \
             with a fresh mix and all that it says of protection.{wait}",
            n,
            wait
        )
    } else {
        say!(
            "Where a night has passed since step {n} of the preparation: do that step once more before the first coat, with a fresh \
             mix and all that it says of protection.{wait}",
            n,
            wait
        )
    })
}

/// The code of a specimen has the site where it goes later, which reads as if it were coated there.
fn off_its_place(study: &Study) -> Option<String> {
    let goes_out = study.exposures.iter().any(|place| place.put_out.is_some());
    (study.is_on_racks() && !study.sites.is_empty() && goes_out).then(|| {
        say!("A code begins with the site where its specimen goes later. The coats go on before, where the climate below is kept, and not at the site.")
            .to_owned()
    })
}

// Whoever waits beside one coat misses the window of the next.
fn goes_on(works: &[Work<'_>]) -> Option<String> {
    let waits = works.iter().any(|work| work.coat.is_none() && work.product.coats_number() > 1);
    let words = if waits {
        say!("While a coat waits, go on with another product: the run sheet has the order by the clock.")
    } else {
        say!("The run sheet has the order by the clock.")
    };
    (works.len() > 1).then(|| words.to_owned())
}

/// What a dry applicator soaks up would be missing on the first section. Common practice, no source.
fn wetted(study: &Study, catalog: &Catalog, works: &[Work<'_>]) -> Option<String> {
    let mut laid = works.iter().filter(|work| !safety::goes_on_as_mist(catalog, work.product));
    let is_measured = laid.any(|work| amounts::need(study, work.id, work.coats().into_iter()).is_some());
    is_measured.then(|| {
        say!(
            "Applicator or brush is wetted with its product and struck off first; what that takes is not counted. What is weighed is weighed \
             on it, before and after."
        )
        .to_owned()
    })
}

/// Why days differ from those of the run sheet: what is on record stands here as it was done.
fn as_recorded(study: &Study, works: &[Work<'_>]) -> Option<String> {
    let is_done = |what: &DoneWhat| matches!(what, DoneWhat::Coat(..));
    let apart = works.iter().any(|work| work.coat.is_some());
    (apart && study.done.iter().any(|done| is_done(&done.what))).then(|| {
        say!(
            "Coats on record stand here with the days on which they went on, and what follows is counted from them; the run sheet has the \
             plan as it was before the first minute."
        )
        .to_owned()
    })
}

/// What nothing goes on: it has a label and is read, so that nobody takes it for forgotten.
pub(in crate::report) fn stays_bare(study: &Study) -> Option<String> {
    let bare = [Treatment::Bare, Treatment::Untouched].into_iter();
    let codes: Vec<&str> =
        bare.flat_map(|own| study.carriers_of(own)).map(|(_, own)| own.code.as_str()).collect();
    (!codes.is_empty()).then(|| {
        say!(
            "Nothing goes on {sections}, on purpose: the products are compared with it.",
            sections = section_list(&codes)
        )
    })
}

/// Every day on which a coat goes on.
fn coated_on(study: &Study, planned: &Planned<'_>) -> Vec<Date> {
    let placed = study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id));
    let coats = placed.flat_map(|(id, product)| (1..=product.coats_number()).map(move |coat| (id, coat)));
    let mut days: Vec<Date> = coats.flat_map(|(id, coat)| planned.coat_days(id, coat)).collect();
    days.sort_unstable();
    days.dedup();
    days
}

/// Where the study says when the tape comes off, the step of each coat pulls it, so that its labels are told once above them.
fn labels_moved(study: &Study) -> Option<String> {
    study.apply.as_ref()?.tape_off.as_ref()?;
    labels_kept(study).map(|text| say!("Labels on the tape: {text}.", text))
}

/// How the lines below a step are filled in.
fn lines_of(study: &Study, steps: &[StepView]) -> Vec<String> {
    let is_rack = study.is_on_racks();
    let own = steps.iter().any(|step| !step.rows.is_empty()).then(|| {
        if is_rack {
            say!(
                "Each specimen has its line below the step: it is ticked when its coat is done. Where lines are alike, fill in the first \
                 and join them by a brace; what is used is then that of all of them together."
            )
        } else {
            say!(
                "Each section has its line below the step: it is ticked when its coat is done. Where lines are alike, fill in the first and \
                 join them by a brace; what is used is then that of all of them together."
            )
        }
    });
    let head = if is_rack { say!("specimens") } else { say!("sections") };
    let shared = steps.iter().any(|step| step.blanks.iter().any(|blank| blank == head)).then(|| {
        if is_rack {
            say!(
                "The lines below a step: one for all specimens of a coat where they are alike, else one for each; what is used is that of \
                 the specimens on its line, all together."
            )
        } else {
            say!(
                "The lines below a step: one for all sections of a coat where they are alike, else one for each; what is used is that of \
                 the sections on its line, all together."
            )
        }
    });
    own.into_iter().chain(shared).map(str::to_owned).collect()
}

/// More coats of sections than this have no line each.
const LINES: usize = 6;

/// More sections than this have no times each on the step of a coat.
const CLOCKS: usize = 6;

fn day(study: &Study) -> Option<String> {
    let apply = study.apply.as_ref()?;
    let on = apply.on.as_ref().map(|on| say!("On {day}", day = numbers::day(on.value)));
    let clock = apply.from.map(|from| format!("{:02}:{:02}", from.hour(), from.minute()));
    let from = clock.map(|time| say!("from {time}", time));
    let by = apply.by.as_ref().map(|by| say!("by {by}", by));
    let when: Vec<String> = [on, from, by].into_iter().flatten().collect();
    (!when.is_empty()).then(|| format!("{}.", when.join(" ").trim_end_matches('.')))
}

/// The run over days: what goes on on each of them.
fn days(works: &[Work<'_>]) -> Vec<String> {
    let mut days: Vec<(Date, Vec<String>)> = Vec::new();
    for work in works {
        let Some(date) = work.at.map(DateTime::date) else { continue };
        let what = work.what();
        match days.last_mut().filter(|(day, _)| *day == date) {
            Some((_, all)) => all.push(what),
            None => days.push((date, vec![what])),
        }
    }
    days.into_iter().map(|(date, all)| format!("{}: {}.", numbers::day(date), list(&all, "and"))).collect()
}

impl Work<'_> {
    fn view(&self, study: &Study, catalog: &Catalog) -> StepView {
        let product = self.product;
        let treatment = Treatment::Product(self.id);
        let code = |(_, section): (_, &'_ Section)| section.code.clone();
        let taped: Vec<String> = study.sections_of(treatment).map(code).collect();
        let taped: Vec<&str> = taped.iter().map(String::as_str).collect();
        let all: Vec<String> = study.carriers_of(treatment).map(code).collect();
        let codes: Vec<&str> = all.iter().map(String::as_str).collect();
        let coats = self.coats();
        let mut facts = self.facts(study);
        facts.extend(self.changed_over(study, catalog));
        facts.extend(self.dust(study, catalog));
        facts.extend(self.amounts(study, catalog));
        facts.push(Entry::new(say!("Climate"), climate::in_short(study, catalog, self.id)));
        facts.extend(face(study));
        facts.extend(self.tape(study, &taped));
        let wiped = self.coat.is_some() && coats.iter().any(|coat| coat.off.is_some());
        let boxes = self.boxes(&codes);
        let own_lines = (1..=LINES).contains(&boxes.len());
        // A line that is of one section has room for its tape, beside all that is written of one coat.
        let timed = study.apply.as_ref().and_then(|apply| apply.tape_off.as_ref());
        let timed = timed.is_some_and(|off| self.has_tape_off(off, &taped)) && taped.len() == codes.len();
        let in_columns = timed && own_lines && !wiped && coats.len() == 1;
        StepView {
            number: 1,
            title: say!(
                "Apply {what} on {sections}",
                what = self.what(),
                sections = carriers(study, self.id)
            ),
            why: String::new(),
            facts,
            cautions: texts(&safety::of_application(catalog, study, product, self.has_between())),
            prose: study.prose_on(NoteOn::Product(self.id)),
            boxes: if own_lines { Vec::new() } else { boxes.clone() },
            signed: false,
            fields: if in_columns { Vec::new() } else { self.tape_times(study, &taped) },
            blanks: written(study, &coats, (wiped, own_lines, in_columns)),
            writing: match (own_lines, wiped) {
                (true, _) => 0,
                (false, true) => codes.len().clamp(1, 4),
                (false, false) => coats.len().min(4),
            },
            rows: if own_lines { boxes } else { Vec::new() },
            cards: self.boxes_beside(study, catalog),
        }
    }

    /// Whether something is done to the coat before it, in this step.
    fn has_between(&self) -> bool {
        self.product.coats_number() > 1 && self.coat != Some(1)
    }

    /// The box of the product, and that of the dust that is made before it goes on.
    fn boxes_beside(&self, study: &Study, catalog: &Catalog) -> Vec<Card> {
        let dust = safety::dust_between(catalog, study, self.product).filter(|_| self.has_between());
        let dust = dust.map(|dust| safety::of_dust(catalog, study, dust));
        std::iter::once(safety::of_product(catalog, study, self.product)).chain(dust).collect()
    }

    /// Which protection is on when: the filter of one does not hold the other.
    fn changed_over(&self, study: &Study, catalog: &Catalog) -> Option<Entry> {
        safety::dust_between(catalog, study, self.product).filter(|_| self.has_between())?;
        let product = self.product.title();
        Some(Entry::new(
            say!("Wear"),
            say!("that of the dust until the dust is drawn off, then that of {product}", product),
        ))
    }

    /// What becomes of the dust of what is rubbed between coats.
    fn dust(&self, study: &Study, catalog: &Catalog) -> Option<Entry> {
        let dust = safety::dust_between(catalog, study, self.product).filter(|_| self.has_between())?;
        let oily = self.product.kind.as_ref().and_then(|kind| kind.class);
        let waste = if oily.is_some_and(|class| class.is_in("drying-oil")) {
            safety::oily_dust()
        } else {
            said(dust.handling.waste)
        };
        Some(Entry::new(say!("Its dust"), waste))
    }

    /// When the tape of each section comes off.
    fn tape(&self, study: &Study, codes: &[&str]) -> Option<Entry> {
        let off = study.apply.as_ref()?.tape_off.as_ref().filter(|off| self.has_tape_off(off, codes))?;
        let clocks = if codes.len() <= CLOCKS {
            say!("write from when to when below")
        } else {
            say!("write from when to when beside each")
        };
        let time = numbers::amount(&off.after);
        let words = if off.first_coat {
            say!("{time} after the first coat of each: {clocks}", time, clocks)
        } else {
            say!("{time} after the last coat of each: {clocks}", time, clocks)
        };
        Some(Entry::new(say!("Tape off"), words))
    }

    /// Room for these times by the clock, for each section.
    fn tape_times(&self, study: &Study, codes: &[&str]) -> Vec<Vec<String>> {
        let off = study.apply.as_ref().and_then(|apply| apply.tape_off.as_ref());
        if codes.len() > CLOCKS || !off.is_some_and(|off| self.has_tape_off(off, codes)) {
            return Vec::new();
        }
        codes.iter().map(|code| vec![say!("{code}: tape off from", code), say!("to").to_owned()]).collect()
    }

    /// Whether the tape comes off by the time of a coat of this step.
    fn has_tape_off(&self, off: &TapeOff, codes: &[&str]) -> bool {
        let coat = if off.first_coat { 1 } else { self.product.coats_number() };
        self.coat.is_none_or(|own| own == coat) && !codes.is_empty()
    }

    /// `coat 2 of Clear Nine`, or the product alone.
    fn what(&self) -> String {
        match (self.coat, self.product.title()) {
            (Some(coat), product) => say!("coat {coat} of {product}", coat, product),
            (None, product) => product.to_owned(),
        }
    }

    fn coats(&self) -> Vec<Coat> {
        match self.coat {
            Some(coat) => vec![self.product.coat(coat)],
            None => self.product.each_coat().collect(),
        }
    }

    // A page holds few boxes; where a product lies on many sections the list of codes stands for them.
    fn boxes(&self, codes: &[&str]) -> Vec<String> {
        let coats = if self.coat.is_some() { 1 } else { self.product.coats_number() };
        let coated = |coat: u32, code: &str| {
            if coats == 1 { code.to_owned() } else { say!("{code}, coat {coat}", code, coat) }
        };
        if codes.len() * coats as usize <= 12 {
            (1..=coats).flat_map(|coat| codes.iter().map(move |code| coated(coat, code))).collect()
        } else {
            Vec::new()
        }
    }

    fn facts(&self, study: &Study) -> Vec<Entry> {
        let product = self.product;
        let mut facts = Vec::new();
        let mut add = |label: &str, text: Option<String>| {
            facts.extend(text.map(|text| Entry::new(label, text)));
        };
        add(say!("Tool"), product.tool.as_ref().map(|tool| tool.how.clone()));
        let last = self.coat.is_none_or(|coat| coat == product.coats_number());
        let between = product.coats.as_ref().and_then(|coats| coats.between.clone());
        if let Some(coat) = self.coat.map(|number| product.coat(number)) {
            add(say!("Coat"), Some(say!("{n} of {all}", n = coat.number, all = product.coats_number())));
            add(say!("When"), self.when(study, &coat));
            add(say!("Before it"), between.filter(|_| coat.number > 1));
            if product.is_levelled(&coat) {
                add(say!("Flash"), coat.off.as_ref().map(flash_words));
            } else {
                add(say!("Wipe off"), coat.off.as_ref().map(wipe_words));
            }
        } else {
            let several = product.coats.as_ref().filter(|coats| coats.number > 1);
            let after = several.and_then(|coats| coats.after);
            let coats = count(product.coats_number() as usize, "coat");
            add(
                say!("Coats"),
                Some(match after.map(|after| numbers::amount(&after)) {
                    Some(after) => say!("{coats}, the next after {after}", coats, after),
                    None => coats,
                }),
            );
            add(say!("Between"), between);
            add(say!("Flash"), product.flash.as_ref().map(|flash| flash_words(&flash.value)));
        }
        let unwiped = product.unwiped && product.flash.is_none();
        add(
            say!("Flash"),
            unwiped.then(|| say!("none: it is left as it is, not wiped and not buffed").to_owned()),
        );
        let dry = product.dry.as_ref().map(|dry| numbers::amount(&dry.value));
        add(say!("Dry"), dry.map(|time| say!("no water for {time}", time)));
        add(say!("Cure"), product.cure.as_ref().filter(|_| last).map(|cure| numbers::amount(&cure.value)));
        facts
    }

    /// `24 to 48 h after coat 1; by the plan on 2026-03-17`.
    fn when(&self, study: &Study, coat: &Coat) -> Option<String> {
        let after = coat.after.map(|after| {
            say!("{time} after coat {coat}", time = numbers::amount(&after), coat = coat.number - 1)
        });
        let laid = study.done.iter().any(|done| {
            matches!(&done.what, DoneWhat::Coat(number, product) if product.value == self.id && *number == coat.number)
        });
        let day = self.at.map(|at| numbers::day(at.date()));
        let on = day.map(|day| {
            if laid {
                say!("done on {day}, by the record: not once more", day)
            } else {
                say!("planned for {day}", day)
            }
        });
        let words: Vec<String> = [after, on].into_iter().flatten().collect();
        (!words.is_empty()).then(|| words.join(", "))
    }

    fn amounts(&self, study: &Study, catalog: &Catalog) -> Vec<Entry> {
        let coats = self.coats();
        let need = amounts::need(study, self.id, coats.iter().cloned());
        let mut facts = Vec::new();
        if let Some(mix) = coats.first().and_then(|coat| coat.mix.as_ref()) {
            facts.push(Entry::new(say!("Mix"), mix_text(mix)));
            let own = amounts::coat_mixes(catalog, study, self.id).into_iter().find(|own| own.mix == *mix);
            let how = own.and_then(|own| own.batch).map(|batch| {
                let words = |batch: &amounts::Batch| amounts::coat_batch_words(catalog, self.product, batch);
                batch.map_or_else(|why| why, |batch| words(&batch))
            });
            let anew = if coats.len() > 1 { say!("; anew for each coat") } else { "" };
            facts.extend(how.map(|how| Entry::new(say!("Measure out"), format!("{how}{anew}"))));
            facts.extend(self.product.keeps.as_ref().map(|keeps| {
                let time = numbers::amount(&keeps.value);
                Entry::new(
                    say!("Use up"),
                    say!(
                        "within {time} of mixing; write when it was mixed, and throw the rest away then",
                        time
                    ),
                )
            }));
        }
        let uses = coats.first().and_then(|coat| coat.uses);
        facts.extend(
            uses.map(|uses| {
                Entry::new(say!("Uses"), say!("{amount}, a coat", amount = numbers::amount(&uses)))
            }),
        );
        match need {
            // What is sprayed is neither drawn up nor poured off: it is told by its weight or by its passes.
            Some(need) if safety::goes_on_as_mist(catalog, self.product) => {
                let place = plural(1, if study.is_on_racks() { "specimen" } else { "section" });
                facts.push(Entry::new(
                    say!("Each"),
                    sprayed_amount(self.product, &need.amount(study), &place),
                ));
                facts.push(Entry::new(say!("In all"), need.in_all()));
            }
            Some(need) => {
                let amount = need.each(study);
                let each = if need.differs() {
                    say!("{amount}, for one coat", amount)
                } else if need.has_specimens() && !need.has_sections() {
                    say!("{amount} for one coat on one specimen", amount)
                } else if need.has_specimens() {
                    say!("{amount} for one coat on one section or specimen", amount)
                } else {
                    say!("{amount} for one coat on one section", amount)
                };
                facts.push(Entry::new(say!("Each"), each));
                facts.push(Entry::new(say!("In all"), need.in_all()));
            }
            None => facts.push(Entry::new(
                say!("Each"),
                if study.is_on_racks() {
                    say!("not stated: as the label says, the same on each specimen; write down what was used")
                } else {
                    say!("not stated: as the label says, the same on each section; write down what was used")
                },
            )),
        }
        facts
    }
}

/// How much of what is sprayed goes on a section: a can is not opened, and a gun is not emptied into a cup.
fn sprayed_amount(product: &Product, amount: &str, place: &str) -> String {
    if product.is_aerosol() {
        say!(
            "about {amount} for one coat on one {place}: the same passes on each; weigh the can before and after",
            amount,
            place
        )
    } else {
        say!(
            "about {amount} for one coat on one {place}: the same passes on each; weigh the sprayer before and after",
            amount,
            place
        )
    }
}

/// Which of its faces a specimen is coated on: amounts are counted for one.
fn face(study: &Study) -> Option<Entry> {
    let (width, height) = study.surface.each.as_ref()?;
    let (width, height) = (numbers::decimal(width.mm()), numbers::decimal(height.mm()));
    let one = say!(
        "one face of {width} x {height} mm of each, the one that is read: the amounts are for it",
        width,
        height
    );
    Some(Entry::new(say!("Where"), one))
}

/// `A1 and C4; slips: bay-1 and bay-2`: the sections of the panel, then the specimens of each set.
fn carriers(study: &Study, id: ProductId) -> String {
    let treatment = Treatment::Product(id);
    let codes: Vec<&str> = study.sections_of(treatment).map(|(_, own)| own.code.as_str()).collect();
    let on_panel = (!codes.is_empty()).then(|| section_list(&codes));
    let sets = study.specimens.iter().enumerate().filter_map(|(at, set)| {
        let own = study.carriers_of(treatment).filter(|(_, own)| own.specimen == Some(SpecimensId::new(at)));
        let codes: Vec<&str> = own.map(|(_, own)| own.code.as_str()).collect();
        (!codes.is_empty()).then(|| format!("{}: {}", set.name.value, section_list(&codes)))
    });
    on_panel.into_iter().chain(sets).collect::<Vec<String>>().join("; ")
}

fn flash_words(off: &Range<Time>) -> String {
    say!(
        "{time} from when it is laid on, then level or buff, whichever its label asks for",
        time = numbers::amount(off)
    )
}

fn wipe_words(off: &Range<Time>) -> String {
    say!("{time}, then take off what stands on the surface", time = numbers::amount(off))
}

// What a `done` line of the study takes, in its order, and the surface.
fn written(study: &Study, coats: &[Coat], (wiped, own_lines, taped): (bool, bool, bool)) -> Vec<String> {
    let uses = coats.first().and_then(|coat| coat.uses);
    let unit = uses.map(|uses| if uses.unit.dimension == Dimension::MassPerArea { "g" } else { "ml" });
    let used = unit.map_or_else(|| say!("used").to_owned(), |unit| say!("used, {unit}", unit));
    let degrees = speech::unit(climate::degrees(study));
    // Which section and which coat a line is of is written where it is not printed, since sections differ and coats follow one another.
    let of = if study.is_on_racks() { say!("specimens") } else { say!("sections") };
    let mut blanks = if own_lines { Vec::new() } else { heads(&[of]) };
    blanks.extend((coats.len() > 1 && !own_lines).then(|| say!("coat").to_owned()));
    blanks.extend(if wiped {
        heads(&[say!("date"), say!("laid on at"), say!("taken off at")])
    } else {
        heads(&[say!("date"), say!("time")])
    });
    blanks.extend([used, say!("air, {degrees}", degrees)]);
    blanks.extend([say!("humidity, %").to_owned(), say!("surface, {degrees}", degrees)]);
    blanks.extend(taped.then(|| heads(&[say!("tape off from"), say!("to")])).into_iter().flatten());
    blanks.push(say!("initials").into());
    blanks
}
