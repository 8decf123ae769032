//! What has to be minded while several products are in hand at the same time: cloths, masks, and machines beside vapour.

use super::super::checklist;
use super::super::safety;
use crate::catalog::{Catalog, Class};
use crate::speech::{list, said, say};
use crate::study::{Product, Study};

/// Lines of the catalog that say where cloths go, the one first that is forgotten at the greatest cost.
const CLOTHS: [&str; 3] = ["oily-rags", "uncured-cloths", "solvent-cloths"];

/// Products that go on something.
fn laid(study: &Study) -> impl Iterator<Item = &Product> {
    study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id)).map(|(_, product)| product)
}

fn class(product: &Product) -> Option<&'static Class> {
    product.kind.as_ref().and_then(|kind| kind.class)
}

/// Where cloths and applicators go: for each line the products that it is of.
pub(super) fn cloths(study: &Study, catalog: &Catalog) -> Vec<String> {
    let mut told = Vec::new();
    for line in CLOTHS.iter().filter_map(|id| catalog.line(id)) {
        let calls = |class: &Class| catalog.lines_for(class).iter().any(|own| own.id == line.id);
        let names: Vec<&str> =
            laid(study).filter(|own| class(own).is_some_and(calls)).map(Product::title).collect();
        if !names.is_empty() {
            told.push(say!("{products}: {text}", products = list(&names, "and"), text = said(line.text)));
        }
    }
    // What hardens with damp has its way on its card.
    for own in laid(study).filter(|own| class(own).is_some_and(|class| class.is_in("isocyanate"))) {
        let waste = class(own).map_or("", |class| said(class.handling.waste));
        told.push(say!("{products}: {text}", products = own.title(), text = waste));
    }
    told
}

/// One mask for the whole run, since changes are minutes apart and what was laid on before lies wet beside the next; none where
/// all ask for the same.
pub(super) fn masks(study: &Study, catalog: &Catalog) -> Vec<String> {
    let mut asked: Vec<(&str, Vec<&str>)> = Vec::new();
    for own in laid(study) {
        let filter = class(own)
            .and_then(|class| class.handling.breathing)
            .map_or_else(|| catalog.line("nothing-to-breathe").map_or("", |line| said(line.text)), said);
        match asked.iter_mut().find(|(known, _)| *known == filter) {
            Some((_, names)) => names.push(own.title()),
            None => asked.push((filter, vec![own.title()])),
        }
    }
    if asked.len() < 2 {
        return Vec::new();
    }
    let one = say!(
        "One mask for the whole run, with a filter that holds for all of these by their data sheets, else air from outside: coats that \
         were laid on before are wet beside the next one. It is put on before the first bottle is opened, and taken off in \
         other air only; nobody changes a filter between two products."
    );
    let each = asked
        .iter()
        .map(|(filter, names)| say!("{products}: {text}", products = list(names, "and"), text = *filter));
    let types = checklist::filter_of_run(study, catalog);
    let types = (!types.is_empty()).then(|| {
        say!(
            "The types that are named here are together {types} (EN 14387); whether such a filter does, and its class, the data sheets say.",
            types
        )
    });
    std::iter::once(one.to_owned()).chain(types).chain(each).collect()
}

/// Where coats that burn are rubbed between: the cleaner that draws the dust off is a running machine.
pub(super) fn rubbing(study: &Study, catalog: &Catalog) -> Option<String> {
    let rubbed: Vec<&str> = laid(study)
        .filter(|own| safety::dust_between(catalog, study, own).is_some())
        .map(Product::title)
        .collect();
    let burns = laid(study).any(|own| class(own).is_some_and(|class| class.is_in("flammable")));
    (burns && !rubbed.is_empty()).then(|| {
        say!(
            "Rubbing between coats ({products}): suction cleaner and charger spark, and dust falls on what is wet. So rub and draw off in \
             another room, or carry what is wet out first, and carry nothing back before the dust is drawn off; never where a coat is wet or \
             a bottle is open. Or rub everything first that is rubbed on that day, as far as the windows allow it.",
            products = list(&rubbed, "and")
        )
    })
}

/// What holds of every run: how its windows move, what comes late, and what a change of product takes.
pub(super) fn of_every_run() -> [String; 3] {
    [
        say!(
            "The windows count, not the minutes: each stands as it follows from the planned time of what came before. What is done \
             later moves its window by as much. A window is that of the first section of its row; the others follow in the order in which \
             they were laid on. True times go on the checklist."
        ),
        say!(
            "What comes late is finished at once and written down as late: nothing is wiped off or laid on a second time to mend it. A coat \
             whose window is over goes on only where its data sheet allows it."
        ),
        say!(
            "At each change of product, marked by a line: bottle closed, fresh dry gloves on dry hands, its own applicator and cloth. The safety box of \
             each product is on the checklist; read it before the first minute."
        ),
    ]
    .map(str::to_owned)
}
