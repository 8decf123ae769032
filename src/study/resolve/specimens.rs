//! Loose specimens beside the panel: their names before the measures that are read on them, and one for each product after the map.

use super::{Resolver, same_name};
use crate::diag::Finding;
use crate::study::{ProductId, Section, Specimens, SpecimensId, Treatment};
use crate::syntax::{Args, Block, BlockKind, Clauses, DIGIT};
use crate::text::{Located, Span};

impl<'t> Resolver<'t> {
    /// The sets by name.
    pub(super) fn specimen_sets(&mut self) {
        for (block, name) in self.named(BlockKind::Specimens, "specimens") {
            let mut set = Specimens {
                name,
                material: None,
                size: None,
                spare: None,
                prep: Vec::new(),
                patch: false,
                treated: None,
                broken: block.broken,
            };
            for line in &block.children {
                match line.verb.as_str() {
                    "material" => set.material = line.text().map(|text| text.value.to_owned()),
                    "each" => set.size = self.size(&line.args),
                    "spare" => set.spare = line.number().and_then(|number| self.whole(number, 0)),
                    _ => {}
                }
            }
            self.study.specimens.push(set);
        }
        self.patch_sets();
    }

    /// The set of a name.
    pub(super) fn specimens_id(&mut self, name: Located<&str>) -> Option<SpecimensId> {
        let found = self.study.specimens.iter().position(|set| same_name(&set.name.value, name.value));
        if found.is_none() {
            let sets = self.study.specimens.iter().map(|set| set.name.value.clone());
            let sites = self.study.sites.iter().map(|site| site.value.clone());
            let what = match (self.study.specimens.is_empty(), self.study.sites.is_empty()) {
                (_, true) => "set of specimens",
                (true, false) => "site",
                (false, false) => "site or set of specimens",
            };
            let known: Vec<String> = sites.chain(sets).collect();
            self.undefined(what, name, &known);
        }
        found.map(SpecimensId::new)
    }

    /// Every specimen of every set, once the products are known.
    pub(super) fn loose(&mut self) {
        let sets = self.named_again();
        let several = sets.len() > 1;
        for (at, (block, name)) in sets.into_iter().enumerate() {
            let lines = || block.children.iter().filter(|line| line.verb == "one" || line.verb == DIGIT);
            let Some(line) = lines().next() else {
                if !block.broken {
                    let message = format!("`{}` does not say how many specimens there are", name.value);
                    self.findings.push(
                        Finding::error("specimens-without-number", block.span, message)
                            .help("write `one for each product and bare` under it"),
                    );
                }
                continue;
            };
            let each = line.number().map_or(1, |number| self.whole(number, 1).unwrap_or(1));
            let bare = line.clause("bare").map(|bare| match bare.number() {
                Some(own) => self.whole(own, 0).unwrap_or(each),
                None => each,
            });
            let prefix = if several { format!("{}-", name.value) } else { String::new() };
            let id = SpecimensId::new(at);
            for product in 0..self.study.products.len() {
                let title = self.study.products[product].name.value.clone();
                let treatment = Treatment::Product(ProductId::new(product));
                self.specimens_of(id, &format!("{prefix}{title}"), treatment, each, line.span);
            }
            self.specimens_of(id, &format!("{prefix}bare"), Treatment::Bare, bare.unwrap_or(0), line.span);
        }
    }

    // The sets were named once already, so that a name that stands twice has been told.
    fn named_again(&self) -> Vec<(&'t Block, Located<String>)> {
        let sets = self.study.specimens.iter().map(|set| set.name.clone());
        let blocks: Vec<&'t Block> = self.blocks(BlockKind::Specimens).collect();
        let of = |name: &Located<String>| {
            let own = |block: &&&Block| {
                let head = block.head.as_ref().and_then(Args::name).map(|name| name.span);
                head.or(block.salvaged.as_ref().map(|name| name.span)) == Some(name.span)
            };
            blocks.iter().find(own).copied()
        };
        sets.filter_map(|name| Some((of(&name)?, name))).collect()
    }

    fn specimens_of(&mut self, set: SpecimensId, name: &str, treatment: Treatment, number: u32, span: Span) {
        for n in 1..=number {
            let code = if number == 1 { name.to_owned() } else { format!("{name}-{n}") };
            self.study.loose.push(Section {
                code,
                treatment,
                specimen: Some(set),
                site: None,
                row: None,
                column: None,
                outline: None,
                span,
            });
        }
    }
}
