//! Templates: rendered with auto-escape in the language of the page, and strict about names that a view lacks.

use super::fault::Fault;
use crate::markup;
use crate::speech::{filled, said, say, spoken};
use crate::text::source_hash;
use minijinja::syntax::SyntaxConfig;
use minijinja::value::{Kwargs, Serde, Value};
use minijinja::{AutoEscape, Environment, Error, Output, State, UndefinedBehavior};

/// A template and its file name, whose ending says in which language text is escaped.
#[derive(Debug, Clone, Copy)]
pub(super) struct Template {
    pub(super) name: &'static str,
    pub(super) source: &'static str,
}

/// A view as the engine takes it.
pub(super) fn value(view: &impl serde::Serialize) -> Value {
    Value::from(Serde(view))
}

/// Renders one template. The engine holds that template alone, so a command pays for what it prints.
pub(super) fn render(template: Template, view: Value) -> Result<String, Fault> {
    let fault = |error: Error| Fault(format!("{}: {error:#}", template.name));
    let mut env = Environment::new();
    env.set_undefined_behavior(UndefinedBehavior::Strict);
    let mut syntax = SyntaxConfig::builder();
    syntax.trim_blocks(true).lstrip_blocks(true).keep_trailing_newline(true);
    env.set_syntax(syntax.build().map_err(fault)?);
    env.set_auto_escape_callback(|name| AutoEscape::Custom(language(name).to_owned().into()));
    env.set_formatter(escaped);
    env.add_filter("prose", |text: String| Value::from_safe_string(markup::prose(&text)));
    env.add_filter("markdown", |text: String| Value::from_safe_string(page_of(&text)));
    env.add_filter("capital", capital);
    env.add_function("say", say_in_template);
    env.add_template(template.name, template.source).map_err(fault)?;
    env.get_template(template.name).and_then(|page| page.render(view)).map_err(fault)
}

fn language(name: &str) -> &'static str {
    if std::path::Path::new(name).extension().is_some_and(|ending| ending == "md") {
        "markdown"
    } else {
        "html"
    }
}

fn escaped(out: &mut Output<'_>, state: &mut State<'_, '_>, value: &Value) -> Result<(), Error> {
    let text = value.to_string();
    let markdown = matches!(state.auto_escape(), AutoEscape::Custom(name) if &**name == "markdown");
    let written = match (value.is_safe(), markdown) {
        (true, _) => text,
        (false, true) => markup::markdown_text(&text),
        (false, false) => markup::escape(&text),
    };
    out.write_str(&written).map_err(Error::from)
}

#[allow(clippy::needless_pass_by_value, reason = "the engine gives arguments by value")]
// A sentence of a template in the language that is spoken, its holes filled from the arguments of those names.
fn say_in_template(english: &str, holes: Kwargs) -> Result<String, Error> {
    let names: Vec<String> = holes.args().map(str::to_owned).collect();
    let values: Vec<String> = names.iter().map(|name| holes.get(name)).collect::<Result<_, _>>()?;
    let pairs = names.iter().zip(&values);
    let holes: Vec<(&str, &dyn std::fmt::Display)> =
        pairs.map(|(name, value)| (name.as_str(), value as &dyn std::fmt::Display)).collect();
    Ok(filled(said(english), &holes))
}

// The first letter as a capital, the others as they are.
fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

// The user's Markdown as HTML, quoted so that it stays in its place.
fn page_of(markdown: &str) -> String {
    markup::html(&markup::prose(markdown), say!("Table"), &mut |_| None)
}

const TOKENS: &str = include_str!("../../templates/tokens.css");
const PICTURE: &str = include_str!("../../templates/picture.css");
const PAGE: &str = include_str!("../../templates/page.css");
const FRAME: Template = Template { name: "frame.html", source: include_str!("../../templates/frame.html") };

/// What a page needs besides its body.
#[derive(Debug, Clone, Copy)]
pub(super) struct Frame<'a> {
    /// Title of the window.
    pub(super) title: &'a str,
    /// Left half of the foot on paper: study, date, version.
    pub(super) foot: &'a str,
    /// Rules that only this page has.
    pub(super) style: &'a str,
    /// What the page can do besides; it says all without it. Empty for none.
    pub(super) script: &'a str,
    /// Whether the page shows photos that lie beside it.
    pub(super) photos: bool,
}

/// A whole page around a body that is markup already: style inside, nothing to fetch.
pub(super) fn page(frame: Frame<'_>, body: String) -> Result<String, Fault> {
    let style = [TOKENS, PICTURE, PAGE, frame.style, &paper(frame.foot)].concat();
    let view = minijinja::context! {
        title => frame.title,
        lang => spoken().tag(),
        style => Value::from_safe_string(style),
        script => Value::from_safe_string(frame.script.to_owned()),
        // The policy of the page lets through this script and no other.
        photos => frame.photos,
        script_hash => Value::from_safe_string(source_hash(frame.script)),
        body => Value::from_safe_string(body),
    };
    render(FRAME, view)
}

// The paper is the one in the reader's printer. Margin boxes are the only place where a browser counts pages (CSS Paged Media Module Level 3).
fn paper(foot: &str) -> String {
    let pages = say!("page {n} of {all}", n = "\" counter(page) \"", all = "\" counter(pages)");
    format!(
        "@page {{ margin: 14mm 14mm 18mm; \
         @bottom-left {{ content: {}; font: 9pt system-ui, sans-serif; color: #333; width: 84%; }} \
         @bottom-right {{ content: \"{pages}; font: 9pt system-ui, sans-serif; color: #333; }} }}\n",
        markup::css_string(foot)
    )
}
