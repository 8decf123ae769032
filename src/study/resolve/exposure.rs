//! Where specimens stand: one site, or the sites that the maps name.

use super::Resolver;
use crate::diag::{Finding, list, nearest};
use crate::study::Exposure;
use crate::syntax::{Args, Block, BlockKind, Clauses, Statement};
use crate::text::Located;
use crate::units::Angle;

impl Resolver<'_> {
    pub(super) fn exposures(&mut self) {
        let mut first: Option<&Block> = None;
        for block in self.told_apart(BlockKind::Exposure) {
            let site = self.site_of_exposure(block);
            let taken = self.study.exposures.iter().any(|known| known.of == site);
            if let Some(first) = first.filter(|_| taken) {
                let message = match site {
                    Some(site) => {
                        format!("the exposure of `{}` stands twice", self.study.sites[site.index()].value)
                    }
                    None => "`exposure` stands twice".to_owned(),
                };
                self.findings.push(
                    Finding::error("block-twice", block.span, message)
                        .related(first.span, "first here")
                        .help("keep one of them; only the first is read"),
                );
                // What the second says is lost, so nothing of it is missing.
                for kept in self.study.exposures.iter_mut().filter(|kept| kept.of == site) {
                    kept.broken = true;
                }
                continue;
            }
            first = first.or(Some(block));
            let mut exposure = self.exposure(block);
            exposure.of = site;
            self.study.exposures.push(exposure);
        }
    }

    /// The site that an exposure is of; `None` where the study has one site, which needs no name.
    fn site_of_exposure(&mut self, block: &Block) -> Option<crate::study::SiteId> {
        if self.study.grids.len() < 2 {
            return None;
        }
        let head = block.head.as_ref()?;
        let known: Vec<String> = self.study.sites.iter().map(|site| site.value.clone()).collect();
        let Some(name) = head.name() else {
            let sites: Vec<String> = known.iter().map(|site| format!("`{site}`")).collect();
            self.findings.push(
                Finding::error("site-not-said", block.span, "this exposure does not say of which site it is")
                    .help(format!("write {} after `exposure`", list(&sites, "or"))),
            );
            return None;
        };
        let site = self.site_id(name.value);
        if site.is_none() {
            self.undefined("map", name, &known);
        }
        site
    }

    fn exposure(&mut self, block: &Block) -> Exposure {
        let before = self.mark();
        let mut exposure = Exposure { span: block.span, broken: block.broken, ..Exposure::default() };
        exposure.site =
            block.head.as_ref().and_then(Args::text).map(|site| site.value.to_owned()).unwrap_or_default();
        block.prose().clone_into(&mut exposure.prose);
        for line in &block.children {
            match line.verb.as_str() {
                "faces" => self.faces(line, &mut exposure),
                "flat" => exposure.tilt_deg = Some(0.0),
                "upright" => exposure.tilt_deg = Some(UPRIGHT_DEG),
                "put" => exposure.put_out = self.date(line),
                "brought" => exposure.brought_in = self.date(line),
                _ => {}
            }
        }
        exposure.broken |= self.failed_since(before);
        exposure
    }

    fn faces(&mut self, line: &Statement, exposure: &mut Exposure) {
        let Some(name) = line.name() else { return };
        exposure.faces = Some(name.value.to_owned());
        if !is_compass(name.value) {
            let message = format!("`{}` is no direction of the compass", name.value);
            let finding = Finding::warning("facing-not-known", name.span, message).about("exposure");
            let level = ["up", "sky", "upward", "upwards", "down", "flat", "level"];
            let near = nearest(name.value, COMPASS.iter().copied());
            self.findings.push(match near {
                _ if level.iter().any(|word| word.eq_ignore_ascii_case(name.value)) => {
                    finding.help("write `flat` in place of `faces` for a panel that lies level")
                }
                Some(near) => finding.help(format!("did you mean `{near}`?")),
                None => finding
                    .help("write `south`, `north-east` and so on, and how steep it stands as `tilt 45 deg`"),
            });
        }
        let clause = line.clause("tilt");
        if line.has("upright") || clause.is_some_and(|tilt| tilt.has("upright")) {
            exposure.tilt_deg = Some(UPRIGHT_DEG);
        } else if line.has("flat") {
            exposure.tilt_deg = Some(0.0);
        }
        let tilt = clause.and_then(|tilt| tilt.quantities().into_iter().next());
        let Some(tilt) = tilt.and_then(|tilt| Some(Located::new(self.one::<Angle>(tilt)?, tilt.span))) else {
            return;
        };
        let deg = tilt.value.any().base();
        if deg > 180.0 {
            self.findings.push(
                Finding::error(
                    "value-out-of-range",
                    tilt.span,
                    format!("no panel is tilted by {}", tilt.value),
                )
                .help(
                    "write the angle from level: 0 deg lies flat, 90 deg stands upright, 180 deg faces down",
                ),
            );
        } else {
            exposure.tilt_deg = Some(deg);
        }
    }
}

/// A panel that stands upright, from level.
const UPRIGHT_DEG: f64 = 90.0;

/// The directions that a panel may face; hyphens and capitals do not count.
const COMPASS: &[&str] = &[
    "north",
    "north-north-east",
    "north-east",
    "east-north-east",
    "east",
    "east-south-east",
    "south-east",
    "south-south-east",
    "south",
    "south-south-west",
    "south-west",
    "west-south-west",
    "west",
    "west-north-west",
    "north-west",
    "north-north-west",
];

fn is_compass(word: &str) -> bool {
    let written = word.to_lowercase().replace(['-', '_'], "");
    let letters =
        |known: &str| -> String { known.split('-').filter_map(|part| part.chars().next()).collect() };
    COMPASS.iter().any(|known| known.replace('-', "") == written || letters(known) == written)
}
