//! The screen: everything that draws or listens.
//!
//! The pictures of the boat are pure: they take a borrowed [`scene::Scene`] and paint into a buffer.
//! Colours are asked for by role ([`theme`]), symbols by meaning ([`glyphs`]), so that every picture
//! works in true colour, in sixteen, in none, and in ASCII.

pub mod bands;
pub mod canvas;
pub mod cells;
pub mod deck;
pub mod glyphs;
pub mod mask;
mod palette;
#[cfg(test)]
mod pictures;
pub mod profile;
#[cfg(test)]
mod sample;
pub mod scene;
pub mod theme;
pub mod view;
pub mod words;
