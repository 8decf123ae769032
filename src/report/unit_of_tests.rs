//! What is counted in every test, what is taken out of the scatter, and whose spread it is: for the method.

use super::limits::only_rated;
use super::names;
use crate::speech::{plural, say};
use crate::study::{Study, Unit};

/// What is counted in every test.
pub(super) fn unit(study: &Study) -> String {
    let assumed = sites_assumed(study);
    format!("{}{assumed}", unit_of(study))
}

/// What the comparison over several sites holds for, by the way in which it is made.
fn sites_assumed(study: &Study) -> &'static str {
    let within = matches!(study.unit_on_panel(), Unit::Within(_) | Unit::Linked(_));
    if study.by_site.is_none() || !within {
        ""
    } else if study.averages_over_sites() {
        say!(
            " The layout has every treatment at each site twice or more. So a difference is the average of the differences at these sites, each \
             site counting alike, and its error is the scatter of sections that carry the same at the same site (means of cells; Searle 1987), \
             pooled over all treatments and sites, in every table of differences, further looks included: a product that does otherwise at one \
             site than at another widens no interval. It holds for the average over these sites and says nothing about another site. Where sections that \
             are missing leave the sites uneven, means still count each site alike and intervals are those of all pairs; where a treatment \
             lacks a site altogether, or fewer than 3 degrees of freedom are left, the round is compared by blocks, as said first. Whether products do \
             otherwise at one site than at another is tested by itself (F test of treatments by sites). The mean of a product by itself, its share held, \
             its rate and its level held count each site alike as well; their intervals, and the trend, rest on how sections that carry the same at the same \
             site scatter in that number, with what pieces add left in it."
        )
    } else {
        say!(
            " The layout has not every treatment twice or more at each site, on pieces that stand at one site each where there are such, so that sites are \
             blocks: that assumes that what a product does otherwise \
             at one site than at another is chance of the kind by which sections scatter. It is in the scatter, and where it is large beside the sections, \
             that scatter is no sound error for the average over these sites, nor for sites at large: somebody is told apart more often than in 5 %. \
             Intervals of one product by itself, of its share held, its rate and its level held, and trends, leave what differs between sites in the scatter; \
             where a product stands at them unevenly, its own mean holds more of one than of another."
        )
    }
}

/// Why no group keeps its own spread though the study says that spreads differ.
pub(super) fn pooled_within(study: &Study) -> Option<String> {
    let within = matches!(study.unit_on_panel(), Unit::Within(_) | Unit::Linked(_));
    (study.spreads_differ && within && !only_rated(study)).then(|| {
        say!(
            "Spreads that differ: the study says that they do. Where products are compared within pieces or sites no group keeps its own spread, since \
             means are averaged over these and Games and Howell's procedure is for groups that stand alone: one spread is pooled over all, so that \
             intervals are too narrow where a treatment scatters more than the others, and too wide where it scatters less."
        )
        .to_owned()
    })
}

fn unit_of(study: &Study) -> String {
    let readings = say!("Readings on a section are averaged first; they are no sections.");
    match study.unit_on_panel() {
        Unit::Section => {
            let uneven =
                study.uneven_pieces().map_or_else(String::new, |grouping| uneven(&grouping.name.value));
            say!("The unit of every test is the section. {readings}{uneven}", readings, uneven)
        }
        Unit::Piece(grouping) => say!(
            "The unit of every test is the {grouping}, since sections of one {grouping} are more alike than others and every {grouping} carries \
             one product only. {readings} Sections of a {grouping} are averaged next (of marks the median); they are no {groupings}. A \
             {grouping} that lacks a section is averaged over the others, and every {grouping} counts alike, however many sections it has. Time until spent is told section by section, without a \
             figure for a product.",
            readings,
            grouping = grouping.name.value,
            groupings = plural(2, &grouping.name.value)
        ),
        Unit::Linked(grouping) => say!(
            "The {pieces} carry products unevenly and yet link all of them, so that products are compared within each {grouping}, by least \
             squares (Yates 1936): a product's mean is that over all {pieces} alike, the spread is that beside products and {pieces}, \
             and each difference has an error of its own. Intervals against bare and between products are simultaneous over all \
             pairs, by the studentised range (Kramer 1957); who may lead is told by those pairs.{among}{alone} {readings}",
            readings,
            among = names::among(study),
            alone = names::alone(study, grouping),
            grouping = grouping.name.value,
            pieces = plural(2, &grouping.name.value)
        ),
        Unit::Within(grouping) if study.averages_over_sites() && study.by_site.as_ref() == Some(grouping) => {
            say!(
                "The unit of every test is the section. Every {grouping} carries every treatment, each as often as on any other, so that products are \
             compared by the means of their sections at each {grouping}, averaged over all (means of cells; Searle 1987).{among}{alone} {readings}",
                readings,
                among = names::among(study),
                alone = names::alone(study, grouping),
                grouping = grouping.name.value
            )
        }
        Unit::Within(grouping) => say!(
            "Every {grouping} carries the same products, each as often as on any other, so that products are compared within each {grouping}: the spread is \
             that of the sections about the means of their product and of their {grouping}, on as many degrees of freedom as are \
             left (randomised blocks; Snedecor and Cochran 1989). Where a section is missing at a round, products are compared there by \
             least squares (Yates 1936), with intervals over all pairs (Kramer 1957).{among}{alone} {readings}",
            readings,
            among = names::among(study),
            alone = names::alone(study, grouping),
            grouping = grouping.name.value
        ),
    }
}

/// What it costs that pieces carry products unevenly.
fn uneven(piece: &str) -> String {
    say!(
        " Sections were cut from {pieces} that carry neither one product each nor the same products, each as often as on any other, so that \
         products are not compared within each {piece}: a section counts as if it stood alone. That costs twice. What one \
         {piece} does otherwise than another is in the scatter, so that intervals are wider than those within a {piece} would \
         be; and the mean of a product holds more of some {pieces} than of others, which no interval shows.",
        pieces = plural(2, piece),
        piece
    )
}
