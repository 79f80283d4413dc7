//! The light that a piece of gear shows: colour, horizon, how far and how high it is seen.

use serde::{Deserialize, Serialize};

use crate::geometry::Point;
use crate::units::{Figure, Intensity};

/// A light that gear shows.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Light {
    /// Its colour.
    pub colour: Colour,
    /// The horizon it covers.
    pub arc: LightArc,
    /// Its light centre, mm, gear frame.
    pub centre_mm: Point,
    /// Range in nautical miles, if the maker states one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub range_nm: Option<f64>,
    /// Whether it runs on cells of its own.
    #[serde(default)]
    pub own_cells: bool,
    /// The other half of a combined lantern.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub second: Option<Lantern>,
    /// Its intensity in the level; says more than a stated range.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub intensity: Option<Figure<Intensity>>,
    /// How far up and down from the level of its mount it keeps that intensity, degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub upright_deg: Option<f64>,
    /// How far across the bow it is still seen before it is cut off, degrees; for side lights.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cut_off_deg: Option<f64>,
    /// Whether a disc or shade keeps it out of the eyes of those aboard.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub shaded: bool,
}

/// One colour of a light and the horizon it covers.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lantern {
    /// Its colour.
    pub colour: Colour,
    /// The horizon it covers.
    pub arc: LightArc,
}

impl Light {
    /// One light of this colour and arc and nothing else known of it.
    pub fn plain(colour: Colour, arc: LightArc, centre_mm: Point) -> Self {
        Self {
            colour,
            arc,
            centre_mm,
            range_nm: None,
            own_cells: false,
            second: None,
            intensity: None,
            upright_deg: None,
            cut_off_deg: None,
            shaded: false,
        }
    }

    /// Its lanterns: one, or the two of a combined lantern.
    pub fn lanterns(&self) -> impl Iterator<Item = Lantern> {
        [Some(Lantern { colour: self.colour, arc: self.arc }), self.second].into_iter().flatten()
    }
}

/// Colour of a light.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Colour {
    /// White.
    White,
    /// Red, for port.
    Red,
    /// Green, for starboard.
    Green,
    /// Amber, for the deck.
    Amber,
}

impl Colour {
    /// `white`, `red`, `green`, `amber`.
    pub fn word(self) -> &'static str {
        match self {
            Self::White => "white",
            Self::Red => "red",
            Self::Green => "green",
            Self::Amber => "amber",
        }
    }
}

/// The horizon a light covers.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum LightArc {
    /// All of it.
    AllRound,
    /// From one relative bearing clockwise to another, degrees from ahead.
    Sector(f64, f64),
    /// None to speak of: it lights the deck.
    Deck,
}
