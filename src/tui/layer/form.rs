//! Fields to fill, each checked while it is typed.

use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
use tui_input::Input;
use tui_input::backend::crossterm::EventHandler;

use super::Reply;
use crate::plan::{Act, AnyQuantity, CircuitId, Day, FigureRef, GearId, Name, On};
use crate::units::{
    Charge, Current, Length, Mass, Measure, Origin, Price, Tape, Temperature, length_from_text, number_from_text,
};

/// Fields to fill.
#[derive(Clone, Debug)]
pub struct Form {
    /// What is being filled in.
    pub title: String,
    /// A line of help, or a caution.
    pub help: String,
    /// The fields.
    pub fields: Vec<Field>,
    /// The field with the text cursor.
    pub at: usize,
    /// What the filled form is for.
    pub asked: Asked,
    /// The unit of bare numbers.
    pub tape: Tape,
    /// Why it was not accepted.
    pub refused: Option<String>,
}

/// One field.
#[derive(Clone, Debug)]
pub struct Field {
    /// What it is.
    pub label: String,
    /// What was typed.
    pub input: Input,
    /// What it takes.
    pub kind: FieldKind,
    /// Whether it may stay empty.
    pub optional: bool,
}

/// What a field takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FieldKind {
    /// A length in millimetres, inches or feet.
    Length,
    /// A plain number of this unit.
    Number(&'static str),
    /// A name: one line, not empty.
    Name,
    /// A day, year-month-day.
    Day,
    /// A price, with at most two decimals.
    Price,
    /// Any text, may be empty.
    Text,
    /// One of these words, changed by space or left and right.
    OneOf(&'static [&'static str]),
}

/// What a form was opened for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// A figure.
    Figure(FigureRef),
    /// A label for gear.
    Rename(GearId),
    /// Typed distances for gear.
    MoveTo(GearId),
    /// A height over the surface.
    Raise(GearId),
    /// A hole at the cursor.
    AddHole,
    /// The seat.
    Seat,
    /// The person.
    Person,
    /// The plan's name.
    PlanName,
    /// A path to save to.
    SaveAs,
    /// A circuit's fuse, wire and channel.
    Circuit(CircuitId),
    /// A battery's main.
    Main(GearId),
    /// A cable to plan between these two.
    Cable(GearId, GearId),
    /// A path to open.
    OpenPath,
    /// A marked waterline.
    Waterline,
    /// A scale under the hull.
    Scale,
    /// A meter in the lead of loads.
    Meter,
    /// A seat test.
    SeatTest,
    /// Words about the plan.
    Words,
    /// The day and reading of a task.
    Tick(Act, On),
    /// When there is time for the work.
    WorkTimes,
    /// A name for the plan as it is now.
    KeepRevision,
    /// The name of a hull to be measured, and the class it is like by its index.
    Measure(usize),
}

/// What a filled form orders.
#[derive(Clone, Debug)]
pub struct Order {
    /// What it was opened for.
    pub asked: Asked,
    /// The texts of the fields, trimmed, all of them sound.
    pub texts: Vec<String>,
    /// The unit of bare numbers.
    pub tape: Tape,
}

const ORIGINS: &[&str] = &["measured", "catalogue", "guess"];

impl Field {
    /// A field with a text in it.
    pub fn new(label: impl Into<String>, kind: FieldKind, text: impl Into<String>) -> Self {
        Self { label: label.into(), input: Input::new(text.into()), kind, optional: false }
    }

    /// The same field, which may stay empty.
    #[must_use]
    pub fn optional(self) -> Self {
        Self { optional: true, ..self }
    }

    /// What is wrong with what was typed.
    pub fn fault(&self, tape: Tape) -> Option<String> {
        let text = self.input.value().trim();
        if self.optional && text.is_empty() {
            return None;
        }
        match self.kind {
            FieldKind::Length => length_from_text(text, tape).err().map(|e| e.to_string()),
            FieldKind::Number(_) => number_from_text(text).err().map(|e| e.to_string()),
            FieldKind::Name => Name::new(text).err().map(|e| e.to_string()),
            FieldKind::Price => priced(text).err(),
            FieldKind::Day => Day::from_text(text).is_err().then(|| "type a day as 2031-05-30".into()),
            FieldKind::Text => None,
            FieldKind::OneOf(words) => (!words.contains(&text)).then(|| format!("one of {}", words.join(", "))),
        }
    }
}

impl Form {
    /// A form with the text cursor in its first field.
    pub fn new(title: impl Into<String>, asked: Asked, tape: Tape, fields: Vec<Field>) -> Self {
        Self { title: title.into(), help: String::new(), fields, at: 0, asked, tape, refused: None }
    }

    /// A form for one figure: its value and where that comes from.
    pub fn figure(figure: FigureRef, now: Option<AnyQuantity>, tape: Tape) -> Self {
        let quantity = now.unwrap_or(figure.kind());
        let kind = match quantity {
            AnyQuantity::Length(_) => FieldKind::Length,
            AnyQuantity::Price(_) => FieldKind::Price,
            other => FieldKind::Number(other.unit()),
        };
        let text = now.map(|q| as_typed(q, tape)).unwrap_or_default();
        let mut fields = vec![Field::new(figure.label(), kind, text)];
        // A price is what was asked for it: nothing is measured or guessed.
        if kind != FieldKind::Price {
            fields.push(Field::new("origin", FieldKind::OneOf(ORIGINS), ORIGINS[0]));
        }
        Self::new(format!("set {}", figure.label()), Asked::Figure(figure), tape, fields)
    }

    /// The same form with a line of help.
    #[must_use]
    pub fn with_help(mut self, help: impl Into<String>) -> Self {
        self.help = help.into();
        self
    }

    /// Adds pasted text.
    pub fn insert(&mut self, text: &str) {
        let field = self.fields.get_mut(self.at).filter(|field| !matches!(field.kind, FieldKind::OneOf(_)));
        if let Some(field) = field {
            for c in text.chars() {
                field.input.handle(tui_input::InputRequest::InsertChar(c));
            }
        }
    }

    /// Takes a key.
    pub fn key(&mut self, key: &KeyEvent) -> Reply {
        self.refused = None;
        let last = self.fields.len().saturating_sub(1);
        let tape = self.tape;
        match key.code {
            KeyCode::Esc => return Reply::Close,
            KeyCode::Char('c') if key.modifiers.contains(KeyModifiers::CONTROL) => return Reply::Close,
            KeyCode::Up | KeyCode::BackTab => self.at = if self.at == 0 { last } else { self.at - 1 },
            KeyCode::Down | KeyCode::Tab => self.at = if self.at >= last { 0 } else { self.at + 1 },
            KeyCode::Enter => {
                if let Some(bad) = self.fields.iter().position(|field| field.fault(tape).is_some()) {
                    self.at = bad;
                    return Reply::Stay;
                }
                let texts = self.fields.iter().map(|field| field.input.value().trim().to_string()).collect();
                return Reply::Filled(Box::new(Order { asked: self.asked, texts, tape }));
            }
            code => {
                let Some(field) = self.fields.get_mut(self.at) else { return Reply::Stay };
                match (field.kind, code) {
                    (FieldKind::OneOf(words), KeyCode::Left) => field.input = Input::new(step(words, field, -1)),
                    (FieldKind::OneOf(words), KeyCode::Right | KeyCode::Char(' ')) => {
                        field.input = Input::new(step(words, field, 1));
                    }
                    (FieldKind::OneOf(words), KeyCode::Char(c)) => {
                        if let Some(word) = words.iter().find(|word| word.starts_with(c)) {
                            field.input = Input::new((*word).into());
                        }
                    }
                    (FieldKind::OneOf(_), _) => {}
                    _ => {
                        field.input.handle_event(&Event::Key(*key));
                    }
                }
            }
        }
        Reply::Stay
    }
}

impl Order {
    /// A field's text; empty when there is no such field.
    pub fn text(&self, at: usize) -> &str {
        self.texts.get(at).map_or("", String::as_str)
    }

    /// A field as a length. The form accepted it, so a fault here reads as zero.
    pub fn length(&self, at: usize) -> Length {
        length_from_text(self.text(at), self.tape).unwrap_or_default()
    }

    /// A field as a number, likewise.
    pub fn number(&self, at: usize) -> f64 {
        number_from_text(self.text(at)).unwrap_or_default()
    }

    /// A length that may have been left out.
    pub fn length_if_any(&self, at: usize) -> Option<Length> {
        (!self.text(at).is_empty()).then(|| self.length(at))
    }

    /// A number that may have been left out.
    pub fn number_if_any(&self, at: usize) -> Option<f64> {
        (!self.text(at).is_empty()).then(|| self.number(at))
    }

    /// A field as a temperature in degrees Celsius.
    pub fn temperature(&self, at: usize) -> Temperature {
        Temperature::celsius(self.number(at))
    }

    /// The value of a figure's form.
    pub fn quantity(&self, figure: FigureRef) -> AnyQuantity {
        match figure.kind() {
            AnyQuantity::Length(_) => AnyQuantity::Length(self.length(0)),
            AnyQuantity::Mass(_) => AnyQuantity::Mass(Mass::kg(self.number(0))),
            AnyQuantity::Current(_) => AnyQuantity::Current(Current::amps(self.number(0))),
            AnyQuantity::Charge(_) => AnyQuantity::Charge(Charge::amp_hours(self.number(0))),
            AnyQuantity::Price(price) => AnyQuantity::Price(Price::new(self.number(0)).unwrap_or(price)),
            other @ (AnyQuantity::Voltage(_) | AnyQuantity::Resistance(_) | AnyQuantity::Percent(_)) => {
                other.with_base(self.number(0))
            }
        }
    }

    /// The origin of a figure's form.
    pub fn origin(&self) -> Origin {
        match self.text(1) {
            "measured" => Origin::Measured,
            "catalogue" => Origin::Catalogue,
            _ => Origin::Guess,
        }
    }
}

/// A price as typed.
fn priced(text: &str) -> Result<Price, String> {
    let amount = number_from_text(text).map_err(|why| why.to_string())?;
    Price::new(amount).map_err(|why| why.to_string())
}

/// A quantity as the person would have typed it.
pub(crate) fn as_typed(quantity: AnyQuantity, tape: Tape) -> String {
    match quantity {
        AnyQuantity::Length(length) => length_as_typed(length, tape),
        AnyQuantity::Price(price) => price.to_string(),
        other => trimmed(other.base()),
    }
}

/// A length as the person would have typed it: in the unit it was written in when that is not the
/// tape's own.
pub(crate) fn length_as_typed(length: Length, tape: Tape) -> String {
    match (length.unit_tag(), tape) {
        ("Mm", Tape::Metric) | ("In", Tape::Inches) => trimmed(length.written()),
        (unit, _) => format!("{} {}", trimmed(length.written()), unit.to_lowercase()),
    }
}

/// A length in the unit it was written in, with that unit; inches as a tape shows them where they are its fractions.
pub(crate) fn length_in_its_unit(length: Length) -> String {
    let on_the_tape = (length.written() * 16.0).fract() == 0.0;
    match length.unit_tag() {
        "In" if on_the_tape => Measure(Tape::Inches).length(length.to_mm()),
        "Mm" => format!("{} mm", trimmed((length.written() * 10.0).round() / 10.0)),
        unit => format!("{} {}", trimmed(length.written()), unit.to_lowercase()),
    }
}

/// A number with at most three decimals, none that say nothing.
pub(crate) fn trimmed(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

fn step(words: &[&str], field: &Field, by: isize) -> String {
    let at = words.iter().position(|word| *word == field.input.value()).unwrap_or(0);
    let next = (at as isize + by).rem_euclid(words.len() as isize) as usize;
    words[next].to_string()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;

    #[test]
    fn a_length_is_checked_while_it_is_typed() {
        let field = |text: &str| Field::new("x", FieldKind::Length, text);
        assert_eq!(field("12 1/4 in").fault(Tape::Metric), None);
        assert!(field("12 1/").fault(Tape::Metric).is_some());
    }

    #[test]
    fn a_form_with_a_fault_stays_open_at_the_fault() {
        let fields = vec![Field::new("a", FieldKind::Name, "ok"), Field::new("b", FieldKind::Length, "x")];
        let mut form = Form::new("t", Asked::PlanName, Tape::Metric, fields);
        assert!(matches!(form.key(&KeyEvent::from(KeyCode::Enter)), Reply::Stay));
        assert_eq!(form.at, 1);
    }

    #[test]
    fn what_was_written_in_inches_is_offered_in_inches() {
        assert_eq!(length_as_typed(Length::inches(12.25), Tape::Metric), "12.25 in");
        assert_eq!(length_as_typed(Length::mm(310.0), Tape::Metric), "310");
    }
}
