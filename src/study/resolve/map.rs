//! The drawn maps: rows of words become sections, on a panel or on the racks of one site or several.

use super::{Resolver, TREATMENTS, same_name};
use crate::diag::{Finding, count, list, nearest};
use crate::speech::say;
use crate::study::{Grid, Grouping, Outline, Point, Section, SectionId, SiteId, Treatment};
use crate::syntax::{Args, Block, BlockKind, Clauses, Statement};
use crate::text::{Located, Span};
use crate::units::{Length, Quantity};

/// The part of the shorter side of a specimen that is drawn between neighbours on a rack; a rack is not measured.
const RACK_GAP: f64 = 0.2;

/// Where the places of a drawing lie, mm.
#[derive(Debug, Clone, Copy)]
struct Lattice {
    at: Point,
    width: f64,
    height: f64,
    gap: f64,
}

impl Lattice {
    fn outline(self, row: usize, column: usize) -> Outline {
        let x = self.at.x + column as f64 * (self.width + self.gap);
        let y = self.at.y + row as f64 * (self.height + self.gap);
        Outline::Rectangle { at: Point { x, y }, width: self.width, height: self.height }
    }
}

impl<'t> Resolver<'t> {
    pub(super) fn maps(&mut self) {
        let mut blocks = self.told_apart(BlockKind::Map);
        self.study.map_broken = blocks.iter().any(|block| block.broken);
        // A second map whose head could not be read has been told.
        if blocks.iter().any(|block| block.head.is_some()) && blocks.len() > 1 {
            blocks.retain(|block| block.head.is_some());
        }
        let several = self.sites(&blocks);
        for (at, &block) in blocks.iter().enumerate() {
            if at == 0 || several {
                self.map(block, several.then(|| SiteId::new(at)));
            }
        }
        if let Some(block) =
            blocks.first().filter(|_| self.study.sections.is_empty() && !self.study.map_broken)
        {
            self.findings.push(
                Finding::error("map-empty", block.span, "the map has no sections")
                    .help("draw rows such as `| thyme  bare  clove |` under it"),
            );
        }
    }

    /// Names the sites where there are several maps, each on racks and each with a name; true where there are.
    fn sites(&mut self, blocks: &[&'t Block]) -> bool {
        let [first, others @ ..] = blocks else { return false };
        let name =
            |block: &Block| block.head.as_ref().and_then(Args::name).map(|name| name.map(str::to_owned));
        if others.is_empty() {
            self.study.sites = name(first).into_iter().collect();
            return false;
        }
        let racks =
            blocks.iter().all(|block| block.head.as_ref().is_none_or(|head| head.clause("rack").is_some()));
        let names: Vec<Option<Located<String>>> = blocks.iter().map(|block| name(block)).collect();
        if !racks || names.iter().any(Option::is_none) {
            // What the others say is lost, so nothing of them is missing.
            self.study.map_broken = true;
            for again in others {
                let finding = Finding::error("block-twice", again.span, "`map` stands twice")
                    .related(first.span, "first here")
                    .help("keep one of them; only the first is read")
                    .help("several maps are the racks of several sites: `map coast  rack 4 rows of 7`");
                self.findings.push(finding);
            }
            return false;
        }
        let names: Vec<Located<String>> = names.into_iter().flatten().collect();
        for (at, name) in names.iter().enumerate() {
            if let Some(first) = names[..at].iter().find(|first| same_name(&first.value, &name.value)) {
                let message = format!("site `{}` stands twice", name.value);
                self.findings.push(
                    Finding::error("duplicate-name", name.span, message)
                        .related(first.span, "first here")
                        .help("give one of them another name"),
                );
            }
        }
        self.study.sites = names;
        true
    }

    fn map(&mut self, block: &'t Block, site: Option<SiteId>) {
        let rows: Vec<&Statement> = block.children.iter().filter(|line| line.verb == "|").collect();
        let places: Vec<Vec<Located<&str>>> = rows.iter().map(|row| row.names()).collect();
        let counts: Vec<usize> = places.iter().map(Vec::len).collect();
        let first_row = self.study.grids.last().map_or(0, |grid| grid.first_row + grid.places.len() + 1);
        let grid = block.head.as_ref().and_then(|head| self.grid(head, &counts, (site, first_row)));
        let lattice = grid.as_ref().and_then(|grid| self.lattice(block.head.as_ref(), grid));
        for (row, places) in places.iter().enumerate() {
            for (column, &word) in places.iter().enumerate() {
                let outline = lattice.map(|lattice| lattice.outline(row, column));
                self.place(word, (row, column), (site, first_row), outline);
            }
        }
        self.study.grids.extend(grid);
        for line in block.children.iter().filter(|line| line.verb == "section") {
            self.named_section(line);
        }
    }

    fn grid(&mut self, head: &Statement, counts: &[usize], at: (Option<SiteId>, usize)) -> Option<Grid> {
        if counts.is_empty() {
            return None;
        }
        let (site, first_row) = at;
        let drawn = |width, height, gap, rack| Grid {
            width,
            height,
            gap,
            rack,
            site,
            first_row,
            places: counts.to_vec(),
            span: head.span,
        };
        if let Some(rack) = head.clause("rack") {
            self.rack_as_drawn(rack.span, &rack.numbers(), counts);
            let Some((width, height)) = self.study.surface.each else {
                // A size that is there and could not be read has been told.
                if !self.study.surface.broken {
                    self.findings.push(
                        Finding::error(
                            "map-without-size",
                            head.span,
                            "the rack does not say how large a specimen is",
                        )
                        .help("write `each 300 x 90 mm` under `surface`"),
                    );
                }
                return None;
            };
            return Some(drawn(width, height, None, true));
        }
        let Some(sections) = head.clause("sections") else {
            self.findings.push(
                Finding::error("map-without-size", head.span, "the map does not say how large a section is")
                    .help("write `map sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm`")
                    .help("or, where every section is a specimen by itself, `map rack 4 rows of 7`"),
            );
            return None;
        };
        if self.study.surface.each.is_some() {
            self.findings.push(
                Finding::error(
                    "each-without-rack",
                    head.span,
                    "the surface is many specimens, and this map divides one",
                )
                .help("write `map rack 4 rows of 7`, with as many rows and places as there are specimens"),
            );
            return None;
        }
        let (width, height) = self.size(&sections.args)?;
        let written = head.clause("gap").and_then(|clause| clause.quantities().into_iter().next());
        let gap = written.and_then(|gap| self.one::<Length>(gap));
        // A gap that could not be taken is not a gap of nothing.
        if written.is_some() && gap.is_none() {
            return None;
        }
        if gap.is_none() {
            self.assume(say!("The sections of the map touch each other: no gap was given.").to_owned());
        }
        Some(drawn(width, height, gap, false))
    }

    /// Tells of a rack that is drawn with other rows or places than it is said to have.
    fn rack_as_drawn(&mut self, span: Span, said: &[Located<&str>], counts: &[usize]) {
        let said: Vec<Option<u32>> = said.iter().map(|number| self.whole(*number, 1)).collect();
        let &[Some(rows), Some(places)] = said.as_slice() else { return };
        let widest = counts.iter().copied().max().unwrap_or(0);
        if self.study.map_broken || (rows as usize == counts.len() && places as usize == widest) {
            return;
        }
        let message = format!(
            "the rack has {} of {places}, and {} of {widest} are drawn",
            count(rows as usize, "row"),
            count(counts.len(), "row")
        );
        self.findings.push(
            Finding::error("rack-unlike-drawing", span, message)
                .help("draw every place of the rack, `.` where it is empty, or correct the numbers"),
        );
    }

    /// Where the drawing lies: on the panel as its head says, or one rack below the other.
    fn lattice(&mut self, head: Option<&Statement>, grid: &Grid) -> Option<Lattice> {
        let (own_width, own_height) = (grid.width.mm(), grid.height.mm());
        if grid.rack {
            let above = self.study.sections.iter().filter_map(|section| section.outline.as_ref());
            let below = above.map(|outline| outline.bounds().3).reduce(f64::max);
            let y = below.map_or(0.0, |bottom| bottom + own_height);
            let gap = RACK_GAP * own_width.min(own_height);
            return Some(Lattice { at: Point { x: 0.0, y }, width: own_width, height: own_height, gap });
        }
        let gap = grid.gap.map_or(0.0, Quantity::mm);
        let across = |count: usize, own: f64| count as f64 * own + count.saturating_sub(1) as f64 * gap;
        let width = across(grid.usual_places(), own_width);
        let height = across(grid.places.len(), own_height);
        let at = if let Some(place) = head.and_then(|head| head.clause("place")) {
            self.edges(place, width, height)?
        } else {
            self.assume(say!("The map lies in the middle of the surface: no place was given.").to_owned());
            let (panel_width, panel_height) = (self.study.surface.width?, self.study.surface.height?);
            Point { x: (panel_width.mm() - width) / 2.0, y: (panel_height.mm() - height) / 2.0 }
        };
        Some(Lattice { at, width: own_width, height: own_height, gap })
    }

    fn place(
        &mut self,
        word: Located<&str>,
        (row, column): (usize, usize),
        (site, first_row): (Option<SiteId>, usize),
        outline: Option<Outline>,
    ) {
        if word.value == "." {
            return;
        }
        let code = format!("{}{}", row_letters(row), column + 1);
        let code = match site {
            Some(site) => format!("{} {code}", self.study.sites[site.index()].value),
            None => code,
        };
        let treatment = self.treatment(word);
        self.study.sections.push(Section {
            code,
            treatment,
            specimen: None,
            site,
            row: Some(first_row + row),
            column: Some(column),
            outline,
            span: word.span,
        });
    }

    fn treatment(&mut self, word: Located<&str>) -> Treatment {
        match word.value.to_lowercase().as_str() {
            "bare" => return Treatment::Bare,
            "carrier-only" | "carrier" => return Treatment::CarrierOnly,
            "untouched" => return Treatment::Untouched,
            // A place of a row that could not be read has no name; a finding has told it.
            "" => return Treatment::Unknown,
            "?" => return Treatment::Open,
            _ => {}
        }
        if let Some(id) = self.product_id(word.value) {
            return Treatment::Product(id);
        }
        let control = ["control", "untreated", "blank"].contains(&word.value.to_lowercase().as_str());
        let known: Vec<&str> =
            self.study.products.iter().map(|product| product.name.value.as_str()).collect();
        let near =
            nearest(word.value, known.into_iter().chain(TREATMENTS.iter().copied())).map(str::to_owned);
        let printed = self.printed_as("product", word.value);
        let help = match near {
            _ if control => "a section that is prepared and left is called `bare`".to_owned(),
            _ if printed.is_some() => format!("did you mean `{}`?", printed.unwrap_or_default()),
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("define it: `product {}`", word.value),
        };
        self.tell(
            Finding::error("undefined-name", word.span, format!("no product is called `{}`", word.value))
                .help(help),
        );
        Treatment::Unknown
    }

    fn named_section(&mut self, line: &Statement) {
        let names = line.names();
        let &[name, of] = names.as_slice() else { return };
        if let Some(first) = self.study.sections.iter().find(|section| same_name(&section.code, name.value)) {
            let first: Span = first.span;
            self.findings.push(
                Finding::error("duplicate-name", name.span, format!("section `{}` stands twice", name.value))
                    .related(first, "first here")
                    .help("give one of them another name"),
            );
            return;
        }
        let outline = self.outline(line, name.value);
        let treatment = self.treatment(of);
        let code = name.value.to_owned();
        self.study.sections.push(Section {
            code,
            treatment,
            specimen: None,
            site: None,
            row: None,
            column: None,
            outline,
            span: line.span,
        });
    }

    /// The site of a name, if there is one.
    pub(super) fn site_id(&self, name: &str) -> Option<SiteId> {
        self.study.sites.iter().position(|site| same_name(&site.value, name)).map(SiteId::new)
    }

    /// Specimens of one site share its weather as boards of one plank share their wood.
    pub(super) fn by_site(&mut self) {
        let Some(first) = self.study.sites.first().filter(|_| self.study.sites.len() > 1) else { return };
        let name = Located::new(say!("site").to_owned(), first.span);
        let site = |section: &Section| Some(self.study.sites[section.site?.index()].clone());
        let members =
            self.study.sections_with_ids().filter_map(|(id, section)| Some((id, site(section)?))).collect();
        self.study.by_site = Some(Grouping { name, members, broken: false });
    }

    /// A second drawing over the map: which specimens were cut from one piece.
    pub(super) fn groups(&mut self) {
        for block in self.blocks(BlockKind::Group) {
            let Some(head) = block.head.as_ref() else { continue };
            let Some(name) = head.name() else { continue };
            let before = self.mark();
            let members = self.group_members(block, head);
            let broken = block.broken || self.failed_since(before);
            let known = self.study.groups.iter_mut().find(|group| same_name(&group.name.value, name.value));
            match known {
                Some(known) => {
                    known.members.extend(members);
                    known.broken |= broken;
                }
                None => self.study.groups.push(Grouping { name: name.map(str::to_owned), members, broken }),
            }
        }
    }

    fn group_members(&mut self, block: &Block, head: &Statement) -> Vec<(SectionId, Located<String>)> {
        let site = match head.clause("home").and_then(Args::name) {
            Some(name) => {
                let Some(site) = self.site_id(name.value) else {
                    let known: Vec<String> = self.study.sites.iter().map(|site| site.value.clone()).collect();
                    self.undefined("map", name, &known);
                    return Vec::new();
                };
                Some(site)
            }
            None if self.study.grids.len() > 1 => {
                let sites: Vec<String> =
                    self.study.sites.iter().map(|site| format!("`{}`", site.value)).collect();
                self.findings.push(
                    Finding::error(
                        "site-not-said",
                        head.span,
                        "this drawing does not say of which site it is",
                    )
                    .help(format!("end the line with `on` and {}", list(&sites, "or"))),
                );
                return Vec::new();
            }
            None => None,
        };
        let grid =
            self.study.grids.iter().find(|grid| site.is_none() || grid.site == site || grid.site.is_none());
        let Some((first_row, drawn)) = grid.map(|grid| (grid.first_row, grid.places.clone())) else {
            return Vec::new();
        };
        let rows: Vec<&Statement> = block.children.iter().filter(|line| line.verb == "|").collect();
        let counts: Vec<usize> = rows.iter().map(|row| row.names().len()).collect();
        if counts != drawn && !block.broken && !self.study.map_broken {
            self.findings.push(
                Finding::error(
                    "group-unlike-map",
                    head.span,
                    "this drawing has other rows or places than the map",
                )
                .help("draw it place by place over the map, `.` where the map has `.`"),
            );
            return Vec::new();
        }
        let mut members = Vec::new();
        for (row, line) in rows.iter().enumerate() {
            for (column, word) in line.names().iter().enumerate() {
                let here = |section: &Section| {
                    section.row == Some(first_row + row) && section.column == Some(column)
                };
                let found = self.study.sections.iter().position(here);
                match (found, word.value) {
                    (Some(section), piece) if piece != "." => {
                        members.push((SectionId::new(section), word.map(str::to_owned)));
                    }
                    (Some(section), _) => {
                        let message =
                            format!("nothing says what `{}` was cut from", self.study.sections[section].code);
                        self.findings.push(
                            Finding::error("group-unlike-map", word.span, message)
                                .help("write the piece that it was cut from"),
                        );
                    }
                    (None, ".") => {}
                    (None, piece) => self.findings.push(
                        Finding::error(
                            "group-unlike-map",
                            word.span,
                            format!("the map has no section where `{piece}` stands"),
                        )
                        .help("write `.` here, or a section in the map"),
                    ),
                }
            }
        }
        members
    }
}

/// `A` to `Z`, then `AA` and so on.
pub(super) fn row_letters(row: usize) -> String {
    let letter = |n: usize| char::from(b'A' + u8::try_from(n % 26).unwrap_or(0));
    match row / 26 {
        0 => letter(row).to_string(),
        above => format!("{}{}", row_letters(above - 1), letter(row)),
    }
}

#[cfg(test)]
mod tests {
    use super::row_letters;

    #[test]
    fn rows_past_the_alphabet_take_two_letters() {
        assert_eq!(row_letters(0), "A");
        assert_eq!(row_letters(25), "Z");
        assert_eq!(row_letters(26), "AA");
        assert_eq!(row_letters(27 * 26), "AAA");
    }
}
