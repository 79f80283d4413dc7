//! The words for groups of gear in lists.

use crate::plan::Kind;

/// The plural word under which gear of this kind is listed and found: `batteries`.
pub fn kind_word(kind: Kind) -> &'static str {
    match kind {
        Kind::Display => "displays",
        Kind::Transducer => "transducers",
        Kind::BlackBox => "black boxes",
        Kind::Sensor => "sensors",
        Kind::Radio => "radios",
        Kind::Phone => "phones",
        Kind::Camera => "cameras",
        Kind::Boom => "booms and poles",
        Kind::Converter => "converters",
        Kind::SwitchUnit => "switch units",
        Kind::Protection => "fuses and breakers",
        Kind::Battery => "batteries",
        Kind::Motor => "motors",
        Kind::Light => "lights",
        Kind::Pump => "pumps",
        Kind::Livewell => "livewells",
        Kind::Anchor => "anchors",
        Kind::RodHolder => "rod holders",
        Kind::Rod => "rods",
        Kind::Storage => "storage",
        Kind::Cooler => "coolers",
        Kind::Landing => "landing gear",
        Kind::Paddle => "paddles",
        Kind::Cart => "carts",
        Kind::Track => "tracks",
        Kind::Base => "bases and arms",
        Kind::Gland => "glands and cable ports",
        Kind::PowerPort => "power sockets",
        Kind::InspectionPort => "inspection ports",
        Kind::Hardware => "deck hardware",
        Kind::Safety => "safety gear",
        Kind::Other => "other gear",
    }
}
