//! The answer where the differences stand and chance cannot be judged: why, as a headline and a sentence.

use super::asked::Place;
use crate::analysis::Strength;
use crate::speech::say;

pub(super) fn not_judged(at: Place<'_>, reason: Strength) -> (String, Vec<String>) {
    let below = say!(
        "The differences by {measure} at {round} stand below",
        measure = at.measure(),
        round = at.round()
    );
    let (headline, sentence) = match reason {
        Strength::SectionsOnly => (
            say!("This study compares sections, not products"),
            say!(
                "No two sections are treated alike, so that nothing shows how far chance alone parts two sections. \
                 {below}, without intervals and without words.",
                below
            ),
        ),
        Strength::FewLeft => (
            say!("Too few sections were left to judge the differences"),
            say!(
                "No treatment has two sections of which none was stopped before, so that nothing shows how far chance alone parts two \
                 sections at this round. {below}, without intervals and without words.",
                below
            ),
        ),
        Strength::NoScatter => (
            say!("Chance cannot be judged in this study"),
            say!(
                "Sections treated alike do not differ at all. {below}, without intervals and without words.",
                below
            ),
        ),
        Strength::BlankUnsure => (
            say!("The blank of this study is too unsure to hold products against it"),
            say!(
                "For all products at once the blank is not told apart from 0, so that no ratio to it has an interval. {below}, without \
                 intervals and without words.",
                below
            ),
        ),
        Strength::Flat => (
            say!("Chance cannot be judged among the products of this study"),
            say!(
                "On one side of each difference all sections read the same, without a spread of their own. {below}, without intervals \
                 and without words.",
                below
            ),
        ),
        Strength::AtEnd => (
            say!("The measure cannot discriminate among the products at this round"),
            say!(
                "Every section with a product sits at the same end of the scale of {measure}: what lies beyond it does not show, \
                 and differences among them have no interval and no word.",
                measure = at.measure()
            ),
        ),
        Strength::Bound => (
            say!("No word is given on these differences"),
            say!("A side of each difference is a bound and no value, as the tables say.").to_owned(),
        ),
        Strength::FewDegrees | Strength::Full => (
            say!("Too few sections are treated alike to judge the differences"),
            say!(
                "Fewer than 3 degrees of freedom remain. {below} with their intervals, without words.",
                below
            ),
        ),
    };
    (headline.to_owned(), vec![sentence])
}
