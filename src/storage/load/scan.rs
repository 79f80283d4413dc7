//! A first look at a plan's text, before it is read for good: brackets, words and numbers, in RON or JSON.
//!
//! It knows nothing of fields. It finds what the reader proper would report badly or not at all: the format number
//! of a newer file, brackets too deep, numbers that are none, the bracket that was never closed; and it remembers
//! on which line each numbered part of the plan stands.

use super::{Format, short};

/// Brackets within brackets that are followed. A plan with a revision in it needs 13.
const DEEPEST: usize = 32;
/// Words, numbers and strings in one file: some ten times a plan with everything in it.
const MOST_WORDS: usize = 2_000_000;
/// Stations of a tape whose places are kept: more than any tape may have.
const MOST_STATIONS: usize = 20;

/// What the first look found. Places are byte offsets.
#[derive(Debug, Default)]
pub(super) struct Survey {
    /// The number after `format`, and where it stands.
    pub(super) format: Option<(u64, Token)>,
    /// Something that must not be read on.
    pub(super) refusal: Option<(Refusal, Token)>,
    /// Where the innermost bracket that is still open at the end was opened.
    pub(super) unclosed: Option<usize>,
    /// The names of the outermost fields.
    pub(super) fields: Vec<Token>,
    /// The numbered parts: `gear 7` and the place of its number.
    pub(super) parts: Vec<(String, Token)>,
}

/// Why a text is not read on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Refusal {
    /// More than [`DEEPEST`] brackets within one another.
    TooDeep,
    /// More than [`MOST_WORDS`] words.
    TooMuch,
    /// Not a number, or one beyond all numbers.
    NotFinite,
}

/// Looks the whole text over.
pub(super) fn survey(text: &str, format: Format) -> Survey {
    let mut survey = Survey::default();
    let mut stack: Vec<Group> = Vec::new();
    let mut last: Option<Token> = None;
    let mut words = 0;
    for token in Tokens::new(text, format) {
        match token.kind {
            Kind::Open => {
                let within = stack.last_mut().map_or("", |group| {
                    group.children += 1;
                    group.key
                });
                stack.push(Group { opened: token.start, key: "", within, children: 0 });
                if stack.len() > DEEPEST {
                    survey.refusal = Some((Refusal::TooDeep, token));
                    return survey;
                }
                survey.note_tape(&stack, token, None);
            }
            Kind::Close => drop(stack.pop()),
            Kind::Colon => {
                if let (Some(group), Some(name)) = (stack.last_mut(), last) {
                    group.key = name.unquoted(text);
                    survey.note_tape(&stack, name, Some(name.unquoted(text)));
                }
                if let ([_], Some(name)) = (stack.as_slice(), last) {
                    survey.fields.push(name);
                }
            }
            Kind::Comma => {
                if let Some(group) = stack.last_mut() {
                    group.key = "";
                }
            }
            Kind::Word | Kind::Text => {
                words += 1;
                if words > MOST_WORDS {
                    survey.refusal = Some((Refusal::TooMuch, token));
                    return survey;
                }
                if token.kind == Kind::Word && is_not_finite(token.of(text)) {
                    survey.refusal.get_or_insert((Refusal::NotFinite, token));
                }
                survey.note_number(&stack, token, text);
            }
            Kind::Other => {}
        }
        last = Some(token);
    }
    survey.unclosed = stack.last().map(|group| group.opened);
    survey
}

impl Survey {
    /// Keeps the format number and the ids of numbered parts.
    fn note_number(&mut self, stack: &[Group], token: Token, text: &str) {
        let number = || token.of(text).parse::<u64>().ok();
        match stack {
            [plan] if plan.key == "format" => self.format = number().map(|number| (number, token)),
            [.., part] if part.key == "id" => {
                let path: Vec<&str> =
                    stack[1..].iter().map(|group| group.within).filter(|key| !key.is_empty()).collect();
                let word = match path.as_slice() {
                    ["gear"] => "gear",
                    ["penetrations"] => "hole",
                    ["hull", "zones"] => "zone",
                    ["hull", "features"] => "feature",
                    ["wiring", "circuits"] => "circuit",
                    ["wiring", "cables"] => "cable",
                    ["threads"] => "thread",
                    _ => return,
                };
                if let Some(number) = number() {
                    self.parts.push((format!("{word} {number}"), token));
                }
            }
            _ => {}
        }
    }

    /// Keeps the parts of a tape, which have no ids: the tape itself, its stations by their order, and the fields of
    /// both. `field` is the name before a colon; none for a bracket that opens.
    fn note_tape(&mut self, stack: &[Group], token: Token, field: Option<&str>) {
        let path: Vec<&str> = stack.iter().skip(1).map(|group| group.within).collect();
        let (owner, rest) = match path.as_slice() {
            ["hull", "form", rest @ ..] => ("hull form", rest),
            ["tape", rest @ ..] => ("tape", rest),
            _ => return,
        };
        let part = match rest {
            [] => owner.to_string(),
            ["stations", ""] => match stack[stack.len() - 2].children {
                number @ ..=MOST_STATIONS => format!("{owner}, station {number}"),
                _ => return,
            },
            _ => return,
        };
        self.parts.push((field.map_or(part.clone(), |field| format!("{part}, {}", short(field))), token));
    }

    /// Where the part that a field path begins with stands: the last of its number, which is the surplus one where
    /// a number is used twice.
    pub(super) fn part(&self, field: &str) -> Option<Token> {
        let named =
            |part: &str| field.strip_prefix(part).is_some_and(|rest| !rest.starts_with(|c: char| c.is_ascii_digit()));
        self.parts.iter().rev().find(|(part, _)| named(part)).map(|(_, token)| *token)
    }
}

/// `NaN`, `inf` and numbers that a computer can only take for infinite (`1e999`).
fn is_not_finite(word: &str) -> bool {
    let bare = word.trim_start_matches(['+', '-']);
    matches!(bare, "NaN" | "inf" | "Infinity")
        || (bare.starts_with(|c: char| c.is_ascii_digit() || c == '.')
            && word.parse::<f64>().is_ok_and(|number| !number.is_finite()))
}

/// A bracket that is open.
struct Group<'a> {
    opened: usize,
    /// The field being read in it.
    key: &'a str,
    /// The field it is the value of.
    within: &'a str,
    /// How many brackets were opened in it.
    children: usize,
}

/// A piece of the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Token {
    pub(super) kind: Kind,
    pub(super) start: usize,
    pub(super) end: usize,
}

/// What sort of piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// `(`, `[` or `{`.
    Open,
    /// `)`, `]` or `}`.
    Close,
    /// `:`.
    Colon,
    /// `,`.
    Comma,
    /// A name or number.
    Word,
    /// A string with its quotes; without the last one where the text ends in it.
    Text,
    /// Any other character.
    Other,
}

impl Token {
    pub(super) fn of(self, text: &str) -> &str {
        &text[self.start..self.end]
    }

    pub(super) fn unquoted(self, text: &str) -> &str {
        self.of(text).trim_matches('"')
    }
}

/// Cuts a text into tokens; blanks and comments are left out.
pub(super) struct Tokens<'a> {
    text: &'a str,
    at: usize,
    format: Format,
}

impl<'a> Tokens<'a> {
    pub(super) fn new(text: &'a str, format: Format) -> Self {
        Self { text, at: 0, format }
    }

    fn rest(&self) -> &'a str {
        &self.text[self.at..]
    }

    /// Goes past blanks and comments.
    fn skip(&mut self) {
        loop {
            self.at = self.text.len() - self.rest().trim_start().len();
            if self.format == Format::Json {
                return;
            }
            let rest = self.rest();
            if rest.starts_with("//") {
                self.at += rest.find('\n').unwrap_or(rest.len());
            } else if rest.starts_with("/*") {
                self.at += block_comment(rest);
            } else {
                return;
            }
        }
    }
}

impl Iterator for Tokens<'_> {
    type Item = Token;

    fn next(&mut self) -> Option<Token> {
        self.skip();
        let (rest, start) = (self.rest(), self.at);
        let first = rest.chars().next()?;
        let (kind, length) = match first {
            '(' | '[' | '{' => (Kind::Open, 1),
            ')' | ']' | '}' => (Kind::Close, 1),
            ':' => (Kind::Colon, 1),
            ',' => (Kind::Comma, 1),
            '"' => (Kind::Text, quoted(rest, '"')),
            '\'' if self.format == Format::Ron => (Kind::Text, quoted(rest, '\'')),
            _ => match raw_string(rest).filter(|_| self.format == Format::Ron) {
                Some(length) => (Kind::Text, length),
                None if in_word(first) => (Kind::Word, rest.find(|c| !in_word(c)).unwrap_or(rest.len())),
                None => (Kind::Other, first.len_utf8()),
            },
        };
        self.at += length;
        Some(Token { kind, start, end: self.at })
    }
}

fn in_word(c: char) -> bool {
    c.is_alphanumeric() || "_+-.".contains(c)
}

/// Length of a string or character that begins a text.
fn quoted(text: &str, quote: char) -> usize {
    let mut escaped = false;
    for (at, c) in text.char_indices().skip(1) {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            c if c == quote => return at + c.len_utf8(),
            _ => {}
        }
    }
    text.len()
}

/// Length of a raw string (`r"..."`, `r#"..."#`) that begins a text, if one does.
fn raw_string(text: &str) -> Option<usize> {
    let hashes = text.strip_prefix('r')?;
    let body = hashes.trim_start_matches('#');
    let count = hashes.len() - body.len();
    let body = body.strip_prefix('"')?;
    let end = format!("\"{}", "#".repeat(count));
    let opening = text.len() - body.len();
    Some(body.find(&end).map_or(text.len(), |at| opening + at + end.len()))
}

/// Length of a block comment that begins a text; they nest.
fn block_comment(text: &str) -> usize {
    let (mut depth, mut at) = (0_usize, 0);
    while let Some(step) = text[at..].find(['/', '*']) {
        at += step;
        let rest = &text[at..];
        if rest.starts_with("/*") {
            depth += 1;
            at += 2;
        } else if rest.starts_with("*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return at;
            }
        } else {
            at += 1;
        }
    }
    text.len()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::*;

    fn words(text: &str, format: Format) -> String {
        Tokens::new(text, format).map(|token| token.of(text)).collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn strings_and_comments_hide_what_is_in_them() {
        let ron = r###"(a: "x(\"[", /* ( /* [ */ */ b: r##"q"#("##, c: '(', // {
            d: -1.5e3)"###;
        assert_eq!(words(ron, Format::Ron), r###"( a : "x(\"[" , b : r##"q"#("## , c : '(' , d : -1.5e3 )"###);
        assert_eq!(words(r#"{"a":"}","b":1}"#, Format::Json), r#"{ "a" : "}" , "b" : 1 }"#);
    }

    #[test]
    fn the_format_number_is_found_wherever_it_stands() {
        fn check(text: &str, format: Format, expected: Option<u64>) {
            assert_eq!(survey(text, format).format.map(|(number, _)| number), expected, "{text}");
        }
        check(
            "#![enable(implicit_some)]\nPlan(name: \"format: 7\", gear: [(format: 9)], format: 2)",
            Format::Ron,
            Some(2),
        );
        check(r#"{"gear":[{"format":9}],"format": 3}"#, Format::Json, Some(3));
        check("(name: \"x\")", Format::Ron, None);
    }

    #[test]
    fn depth_and_numbers_are_judged_outside_strings_only() {
        fn check(text: &str, expected: Option<Refusal>) {
            assert_eq!(survey(text, Format::Ron).refusal.map(|(refusal, _)| refusal), expected, "{text:.40}");
        }
        check(&"(".repeat(DEEPEST), None);
        check(&"(".repeat(DEEPEST + 1), Some(Refusal::TooDeep));
        check(&format!("(a: \"{}\")", "(".repeat(100)), None);
        check("(a: NaN)", Some(Refusal::NotFinite));
        check("(a: -inf)", Some(Refusal::NotFinite));
        check("(a: 1e999)", Some(Refusal::NotFinite));
        check("(a: \"NaN\", b: infant, c: 1e300)", None);
        check(&"1,".repeat(MOST_WORDS + 1), Some(Refusal::TooMuch));
    }

    #[test]
    fn numbered_parts_are_found_by_their_field_path() {
        let text = "(hull: (zones: [(id: 7)], form: (length: [], stations: [(x: 1), (x: 2, keel: [])])), gear: [(id: 7, spec: (id: 3)), (id: 70)], gear: [(id: 7)])";
        let survey = survey(text, Format::Ron);
        let at = |field: &str| survey.part(field).map(|token| token.start);
        assert_eq!(at("zone 7 \"deck\""), text.find('7'));
        assert_eq!(at("gear 7, mass"), text.rfind('7'));
        assert_eq!(at("gear 70"), text.find("70"));
        assert_eq!(at("gear 3"), None);
        assert_eq!(at("hull form, length"), text.find("length"));
        assert_eq!(at("hull form, rounding"), text.find("(length"));
        assert_eq!(at("hull form, station 2, keel"), text.find("keel"));
        assert_eq!(at("hull form, station 2, width"), text.find("(x: 2"));
    }
}
