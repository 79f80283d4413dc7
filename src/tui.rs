//! The screen: state, keys, layers, drawing. The drawing borrows the state and changes nothing.

pub mod action;
pub mod app;
pub mod areas;
pub mod bands;
pub mod canvas;
pub mod cells;
pub mod company;
pub mod compared;
pub mod deck;
pub mod draft;
pub mod draw;
pub mod glyphs;
pub mod inspector;
pub mod layer;
pub mod mask;
mod palette;
pub mod panels;
#[cfg(test)]
mod pictures;
pub mod profile;
pub mod run;
#[cfg(test)]
mod sample;
pub mod scene;
pub mod seat_view;
pub mod section;
pub mod theme;
pub mod update;
pub mod view;
pub mod voice;
pub mod words;
