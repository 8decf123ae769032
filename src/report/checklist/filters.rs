//! Which one filter covers all of the work: whoever buys has not to choose among those that steps and products ask for.

use super::super::safety;
use super::lists::steps;
use super::view::Bought;
use crate::catalog::{Catalog, Class, LOW_BOILER_FILTER};
use crate::speech::{list, say};
use crate::study::{KindOf, Study};

/// What is asked for: types and classes, and what no filter of the catalog covers.
#[derive(Debug, Default, Clone, PartialEq)]
struct Asked {
    types: Vec<&'static str>,
    without: Vec<String>,
}

impl Asked {
    /// What a thing of a class asks for, by name; in a can or from a gun its mist asks for that of the pack too.
    fn thing(&mut self, catalog: &Catalog, name: &str, kind: Option<&KindOf>, is_mist: bool) {
        let class = kind.and_then(|kind| kind.class);
        let pack = catalog.aerosol().filter(|pack| is_mist && pack.breathing_with(class).is_some());
        self.types.extend(pack.iter().flat_map(|pack| &pack.filter));
        let unknown = |class: &Class| class.handling.filter.is_empty() && class.handling.breathing.is_some();
        if class.is_none_or(unknown) && !self.without.iter().any(|known| known == name) {
            self.without.push(name.to_owned());
        }
        self.types.extend(class.iter().flat_map(|class| &class.handling.filter));
    }

    /// A mask against dust: the finer one where its words name both.
    fn dust(&mut self, mask: Option<&str>) {
        self.types.extend(mask.map(|mask| if mask.contains("P3") { "P3" } else { "P2" }));
    }

    /// A higher class holds what a lower one of its type holds, so that of each type the highest counts.
    fn highest(&self, of: &str) -> Option<&'static str> {
        let own = self.types.iter().filter(|one| one.trim_end_matches(|c: char| c.is_ascii_digit()) == of);
        own.copied().max()
    }

    fn has_low_boilers(&self) -> bool {
        self.types.contains(&LOW_BOILER_FILTER)
    }

    /// `A2, B, E and K with P3`; empty where none is asked for.
    fn words(&self) -> String {
        let gases: Vec<&str> =
            [LOW_BOILER_FILTER, "A", "B", "E", "K"].iter().filter_map(|&of| self.highest(of)).collect();
        match (gases.is_empty(), self.highest("P")) {
            (true, None) => String::new(),
            (true, Some(dust)) => dust.to_owned(),
            (false, None) => list(&gases, "and"),
            (false, Some(dust)) => say!("{gases} with {dust}", gases = list(&gases, "and"), dust),
        }
    }
}

/// What the steps ask for, without the coats.
fn of_steps(study: &Study, catalog: &Catalog) -> Asked {
    let mut asked = Asked::default();
    for step in steps(study) {
        let supply = step.with.as_ref().map(|with| study.supply(with.value));
        if let Some(supply) = supply.filter(|supply| supply.gear.is_none()) {
            asked.thing(catalog, supply.title(), supply.kind.as_ref(), supply.is_aerosol());
        }
        let raises = catalog.step(step.verb.word()).map_or(&[][..], |known| known.raises.as_slice());
        for dust in catalog.classes().iter().filter(|class| raises.contains(&class.id)) {
            asked.dust(safety::dust_mask(catalog, study, dust));
        }
    }
    asked
}

/// What the coats ask for, and the dust between them.
fn of_coats(study: &Study, catalog: &Catalog) -> Asked {
    let mut asked = Asked::default();
    for (_, own) in study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id)) {
        asked.thing(catalog, own.title(), own.kind.as_ref(), safety::goes_on_as_mist(catalog, own));
        if let Some(dust) = safety::dust_between(catalog, study, own) {
            asked.dust(safety::dust_mask(catalog, study, dust));
        }
    }
    asked
}

/// The types of the one filter for the whole run; empty where none is asked for.
pub(in crate::report) fn of_run(study: &Study, catalog: &Catalog) -> String {
    let (asked, mut wet) = (of_coats(study, catalog), Asked::default());
    // Dust is drawn off before anything is opened, with a mask of its own.
    wet.types.extend(asked.types.iter().filter(|one| **one != "P3"));
    wet.words()
}

/// The rows of the shopping list: one filter for everything, or two where a part of the work asks for one against low boilers, which
/// is used up in a shift.
pub(super) fn rows(study: &Study, catalog: &Catalog) -> Vec<Bought> {
    let (steps, coats) = (of_steps(study, catalog), of_coats(study, catalog));
    let apart = steps.has_low_boilers() != coats.has_low_boilers();
    let parts = if apart {
        vec![(say!("preparation, rounds and upkeep"), steps), (say!("the application, the whole run"), coats)]
    } else {
        let mut all = steps;
        all.types.extend(coats.types);
        all.without.extend(coats.without);
        vec![(say!("all of the work"), all)]
    };
    parts.iter().filter_map(|(work, asked)| row(work, asked)).collect()
}

fn row(work: &str, asked: &Asked) -> Option<Bought> {
    let types = asked.words();
    let mut what = say!(
        "{work}: one combined filter (EN 14387) that has all of these types, so that none is changed; its class where none stands here, and \
         whether it does, section 8 of the data sheets says",
        work
    );
    if asked.has_low_boilers() {
        what.push_str(say!("; AX fresh from its seal for each shift, or air from outside"));
    }
    if !asked.without.is_empty() {
        what.push_str(&say!(
            "; not known for {names}: as their boxes say",
            names = list(&asked.without, "and")
        ));
    }
    (!types.is_empty()).then(|| Bought {
        name: say!("Filter {types} for the half mask", types),
        what,
        amount: say!("as many as its maker says for the hours of work").to_owned(),
        packs: String::new(),
        cost: String::new(),
    })
}
