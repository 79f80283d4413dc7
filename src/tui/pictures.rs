//! Pictures of the invented boat as reviewed snapshots, and drawings of every size.
//!
//! A snapshot shows the symbols, then a map of styles: one letter a style, runs counted, so that a
//! lost colour or weight fails as loudly as a lost symbol.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use proptest::prelude::*;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Color, Modifier};

use super::bands::Bands;
use super::cells::Brush;
use super::deck::Deck;
use super::glyphs::Glyphs;
use super::profile::Profile;
use super::sample;
use super::scene::{Ghost, Overlays, Scene};
use super::section::Section;
use super::theme::{Depth, Ground, Theme};
use super::view::{View, Window};
use crate::checks::{Finding, Severity, Subject};
use crate::geometry::{Point, Spot, WaterPlane};
use crate::plan::{GearId, HoleId, Placement, Plan};
use crate::study::Study;
use crate::study::reach::Band;
use crate::study::rig::{HoleRef, RigItem};

/// Symbols of a buffer line by line.
fn symbols(buffer: &Buffer) -> String {
    let mut text = String::new();
    for row in buffer.area.rows() {
        let line: String = row.columns().map(|c| buffer[(c.x, c.y)].symbol().to_string()).collect();
        let _ = writeln!(text, "{line}|");
    }
    text
}

/// Symbols, then the styles as runs of letters with their meaning below.
fn styled(buffer: &Buffer) -> String {
    let mut text = symbols(buffer);
    let mut letters: BTreeMap<String, usize> = BTreeMap::new();
    let mut legend = Vec::new();
    for row in buffer.area.rows() {
        let mut runs: Vec<(usize, usize)> = Vec::new();
        for cell in row.columns().map(|c| &buffer[(c.x, c.y)]) {
            let style = describe(cell.fg, cell.bg, cell.modifier);
            let next = letters.len();
            let letter = *letters.entry(style.clone()).or_insert(next);
            if letter == next {
                legend.push(style);
            }
            match runs.last_mut() {
                Some((last, count)) if *last == letter => *count += 1,
                _ => runs.push((letter, 1)),
            }
        }
        let line: Vec<_> = runs.into_iter().map(|(letter, count)| format!("{}{count}", name(letter))).collect();
        let _ = writeln!(text, "{}", line.join(" "));
    }
    for (index, style) in legend.iter().enumerate() {
        let _ = writeln!(text, "{} = {style}", name(index));
    }
    text
}

fn name(index: usize) -> String {
    let letter = char::from(b'a' + (index % 26) as u8);
    if index < 26 { letter.to_string() } else { format!("{letter}{}", "'".repeat(index / 26)) }
}

fn describe(fg: Color, bg: Color, modifier: Modifier) -> String {
    let colour = |c: Color| match c {
        Color::Rgb(r, g, b) => format!("{r:02x}{g:02x}{b:02x}"),
        other => format!("{other:?}").to_lowercase(),
    };
    let weight = if modifier.is_empty() { String::new() } else { format!(" {modifier:?}") };
    format!("{} on {}{weight}", colour(fg), colour(bg))
}

/// Two verdicts with a place and one hole without.
fn findings() -> Vec<Finding> {
    let finding = |severity, subject, at| Finding {
        check: "sample",
        severity,
        subject,
        at: Some(at),
        value: 1.0,
        limit: 0.0,
        margin: -1.0,
        unit: "mm",
        says: "a sample".into(),
        remedy: "nothing".into(),
        source: "none",
    };
    vec![
        finding(Severity::Stop, Subject::Gear(GearId(9)), Point::new(3280.0, 0.0, 500.0)),
        finding(Severity::Caution, Subject::Hole(HoleRef::Own(HoleId(1))), Point::new(2730.0, -230.0, 330.0)),
        finding(Severity::Note, Subject::Gear(GearId(3)), Point::new(560.0, 0.0, 330.0)),
    ]
}

/// A ghost of the display further aft.
fn in_hand(plan: &Plan) -> (crate::plan::Gear, RigItem) {
    let mut gear = plan.gear[0].clone();
    gear.id = GearId(99);
    gear.place = Some(Placement::at(1950.0, 340.0));
    let item = RigItem::of(plan, &gear, plan.gear.len()).expect("it has a place");
    (gear, item)
}

/// How a picture is asked for in these tests.
#[derive(Clone, Copy)]
struct Look {
    width: u16,
    deck_rows: u16,
    profile_rows: u16,
    depth: Depth,
    glyphs: Glyphs,
}

const MIDDLING: Look = Look { width: 120, deck_rows: 15, profile_rows: 6, depth: Depth::True, glyphs: Glyphs::Block };
const SMALL: Look = Look { width: 80, deck_rows: 10, profile_rows: 4, ..MIDDLING };
const LARGE: Look = Look { width: 200, deck_rows: 24, profile_rows: 8, ..MIDDLING };

fn window(plan: &Plan, look: Look) -> Window {
    View::default().window(&plan.hull, Rect::new(0, 0, look.width, look.deck_rows))
}

fn draw(scene: &Scene<'_>, look: Look) -> Buffer {
    let theme = Theme::new(Ground::Dark, look.depth);
    let brush = Brush { theme: &theme, glyphs: look.glyphs };
    let window = window(scene.plan, look);
    let area = Rect::new(0, look.deck_rows, look.width, look.profile_rows);
    let mut buffer = Buffer::empty(Rect::new(0, 0, look.width, look.deck_rows + look.profile_rows));
    Deck { scene, window, brush }.draw(&mut buffer);
    Profile { scene, deck: window, area, brush }.draw(&mut buffer);
    buffer
}

/// The plain picture with cursor, selection and verdicts.
fn plain(look: Look) -> Buffer {
    let plan = sample::plan();
    let (study, findings) = (Study::of(&plan), findings());
    let scene = Scene {
        cursor: Some(Spot::new(1950.0, -300.0)),
        selected: Some(Subject::Gear(GearId(3))),
        ..Scene::plain(&plan, &study, &findings)
    };
    draw(&scene, look)
}

#[test]
fn block_glyphs_at_three_sizes() {
    insta::assert_snapshot!("deck-80-block-true", styled(&plain(SMALL)));
    insta::assert_snapshot!("deck-120-block-true", symbols(&plain(MIDDLING)));
    insta::assert_snapshot!("deck-200-block-true", symbols(&plain(LARGE)));
}

#[test]
fn without_colour_at_three_sizes() {
    insta::assert_snapshot!("deck-80-block-mono", styled(&plain(Look { depth: Depth::Mono, ..SMALL })));
    insta::assert_snapshot!("deck-120-block-mono", styled(&plain(Look { depth: Depth::Mono, ..MIDDLING })));
    insta::assert_snapshot!("deck-200-block-mono", symbols(&plain(Look { depth: Depth::Mono, ..LARGE })));
}

#[test]
fn ascii_at_three_sizes() {
    let ascii = |look| Look { depth: Depth::Mono, glyphs: Glyphs::Ascii, ..look };
    insta::assert_snapshot!("deck-80-ascii-mono", styled(&plain(ascii(SMALL))));
    insta::assert_snapshot!("deck-120-ascii-mono", symbols(&plain(ascii(MIDDLING))));
    insta::assert_snapshot!("deck-200-ascii-mono", symbols(&plain(ascii(LARGE))));
    insta::assert_snapshot!("deck-80-ascii-true", styled(&plain(Look { depth: Depth::True, ..ascii(SMALL) })));
    insta::assert_snapshot!("deck-80-block-sixteen", styled(&plain(Look { depth: Depth::Sixteen, ..SMALL })));
}

/// A picture with one thing laid over.
fn laid_over(overlays: Overlays<'_>, against: Option<Option<Severity>>) -> Buffer {
    let plan = sample::plan();
    let (study, findings, (gear, item)) = (Study::of(&plan), findings(), in_hand(&plan));
    let ghost = against.map(|against| Ghost { gear: &gear, item: &item, against });
    let scene = Scene { ghost, overlays, ..Scene::plain(&plan, &study, &findings) };
    draw(&scene, Look { depth: Depth::Mono, ..SMALL })
}

#[test]
fn each_overlay_shows_without_colour() {
    let bare = symbols(&laid_over(Overlays::default(), None));
    let inside = symbols(&laid_over(Overlays { inside: true, ..Default::default() }, None));
    let holes = laid_over(Overlays { holes: true, ..Default::default() }, None);
    let water = symbols(&laid_over(Overlays { water: true, ..Default::default() }, None));
    let plan = sample::plan();
    let window = window(&plan, SMALL);
    let thirds = |index: usize| [Band::InHand, Band::AtStretch, Band::OutOfReach][index % 80 / 27];
    let bands = Bands::made(window, (0..800).map(|i| Some(thirds(i))).collect());
    let bands = symbols(&laid_over(Overlays { bands: Some(&bands), ..Default::default() }, None));
    for other in [&inside, &water, &bands] {
        assert_ne!(&bare, other);
    }
    assert!(bands.contains('∙') && bands.contains(':'), "{bands}");
    assert!(inside.contains("B50") && inside.contains("SW"), "{inside}");
    insta::assert_snapshot!("deck-inside", inside);
    insta::assert_snapshot!("deck-holes", styled(&holes));
    insta::assert_snapshot!("deck-bands", bands);
}

#[test]
fn bands_of_another_window_are_left_out() {
    let plan = sample::plan();
    let stale = Bands::made(window(&plan, LARGE), vec![Some(Band::InHand); 4800]);
    let drawn = symbols(&laid_over(Overlays { bands: Some(&stale), ..Default::default() }, None));
    assert_eq!(drawn, symbols(&laid_over(Overlays::default(), None)));
}

#[test]
fn a_ghost_that_does_not_fit_looks_otherwise() {
    let fits = laid_over(Overlays::default(), Some(None));
    let not = laid_over(Overlays::default(), Some(Some(Severity::Stop)));
    assert_ne!(symbols(&fits), symbols(&laid_over(Overlays::default(), None)));
    assert_ne!(fits, not, "weight tells them apart without colour");
}

#[test]
fn a_stop_is_marked_and_reversed_without_colour() {
    let drawn = plain(Look { depth: Depth::Mono, ..MIDDLING });
    let marks: Vec<_> = drawn.content().iter().filter(|c| c.symbol() == "!").collect();
    assert!(!marks.is_empty() && marks.iter().all(|c| c.modifier.contains(Modifier::REVERSED)), "{marks:?}");
}

/// The invented boat in water that is given.
fn trimmed(trim_deg: f64, level: f64) -> (Plan, Study) {
    let plan = sample::plan();
    let mut study = Study::of(&plan);
    let water = WaterPlane::new(0.0, trim_deg.to_radians(), level);
    study.float.levels.rest = water;
    for floor in &mut study.float.levels.floors {
        floor.height_mm = water.height(floor.at);
    }
    for scupper in &mut study.float.levels.scuppers {
        scupper.height_mm = water.height(scupper.at);
    }
    (plan, study)
}

#[test]
fn the_waterline_in_profile_is_slanted_with_the_trim() {
    // 3 degrees over the picture's 120 columns of 32 mm are 200 mm: more than two rows of 65 mm.
    let row = |trim_deg: f64, column: u16| {
        let (plan, study) = trimmed(trim_deg, 150.0);
        let drawn = draw(&Scene::plain(&plan, &study, &[]), Look { depth: Depth::Mono, ..MIDDLING });
        let lit = |y: &u16| drawn[(column, *y)].symbol() != " ";
        (MIDDLING.deck_rows..MIDDLING.deck_rows + MIDDLING.profile_rows).rev().find(lit)
    };
    let (aft, fore) = (row(-3.0, 0), row(-3.0, 119));
    assert!(aft < fore, "down by the stern the water stands higher there: {aft:?} {fore:?}");
    assert!(row(3.0, 0) > row(3.0, 119));
    assert_eq!(row(0.0, 0), row(0.0, 119));
}

#[test]
fn scuppers_that_let_water_in_and_floors_under_it_look_otherwise() {
    let drawn = |depth: Depth| {
        // At the drains, 2 380 mm from the stern, 8 mm over the floor: 200 - 2 380 tan 1 deg - 150.
        let (plan, study) = trimmed(-1.0, 200.0);
        let drawn = draw(&Scene::plain(&plan, &study, &[]), Look { depth, ..MIDDLING });
        (symbols(&drawn), drawn)
    };
    let dry = symbols(&plain(Look { depth: Depth::Mono, ..MIDDLING }));
    assert!(!dry.contains('◍'), "{dry}");
    let (wet, _) = drawn(Depth::Mono);
    assert!(wet.contains('◍'), "{wet}");
    let (_, coloured) = drawn(Depth::True);
    let water = Theme::new(Ground::Dark, Depth::True).colour(super::theme::Role::Wet);
    let deck = coloured.content().iter().take(usize::from(MIDDLING.width * MIDDLING.deck_rows));
    assert!(deck.filter(|cell| cell.bg == water).count() > 20, "the wet part of the floor is tinted");
}

/// The section of the invented boat, 3 pictures or one, the symbols only.
fn section(x: f64, width: u16, rows: u16) -> String {
    let plan = sample::plan();
    let study = Study::of(&plan);
    let scene = Scene { cursor: Some(Spot::new(x, 0.0)), ..Scene::plain(&plan, &study, &[]) };
    let theme = Theme::new(Ground::Dark, Depth::Mono);
    let area = Rect::new(0, 0, width, rows);
    let mut buffer = Buffer::empty(area);
    Section { scene: &scene, area, brush: Brush { theme: &theme, glyphs: Glyphs::Block } }.draw(&mut buffer);
    symbols(&buffer)
}

#[test]
fn a_section_shows_what_is_cut_there_with_port_at_the_left() {
    // The display stands on the port track at 2240 mm, 372 mm to port.
    let drawn = section(2240.0, 80, 12);
    let solid =
        |line: &str| line.chars().take(40).enumerate().filter(|(_, c)| *c == '█').map(|(i, _)| i).collect::<Vec<_>>();
    let columns: Vec<usize> = drawn.lines().flat_map(solid).collect();
    assert!(!columns.is_empty() && columns.iter().all(|column| *column < 21), "{drawn}");
    assert!(!section(2600.0, 80, 12).contains('█'), "{drawn}");
    assert!(section(2240.0, 120, 6).contains("at rest"), "three pictures");
    assert!(section(9000.0, 120, 6).contains("the hull does not reach here"));
}

#[test]
fn the_deck_is_its_own_mirror_image_when_bare() {
    let mut plan = sample::plan();
    plan.gear.clear();
    plan.penetrations.clear();
    let mut hull = sample::hull();
    hull.features.clear();
    hull.zones.clear();
    plan.hull = hull.into();
    let study = Study::of(&plan);
    let look = Look { profile_rows: 0, ..MIDDLING };
    let drawn = draw(&Scene::plain(&plan, &study, &[]), look);
    for x in 0..look.width {
        for y in 0..look.deck_rows / 2 {
            let (above, below) = (&drawn[(x, y)], &drawn[(x, look.deck_rows - 1 - y)]);
            // A half block and its mirror image may swap front and back colour.
            let colours = |c: &ratatui::buffer::Cell| match c.symbol() {
                "▀" => (c.fg, c.bg),
                "▄" => (c.bg, c.fg),
                _ => (c.bg, c.bg),
            };
            if matches!(above.symbol(), " " | "▀" | "▄") {
                let (top, bottom) = colours(below);
                assert_eq!(colours(above), (bottom, top), "{x} {y}");
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn no_size_zoom_or_place_is_too_much(
        x in 0_u16..40, y in 0_u16..20, width in 0_u16..250, height in 0_u16..70, rows in 0_u16..12,
        steps in 0_usize..9, cx in -9e3..9e3_f64, cy in -3e3..3e3_f64, depth in 0_usize..4, ascii: bool, all: bool,
    ) {
        let plan = sample::plan();
        let (study, findings, (gear, item)) = (Study::of(&plan), findings(), in_hand(&plan));
        let area = Rect::new(x, y, width, height);
        let cursor = Spot::new(cx, cy);
        let view = (0..steps).fold(View::default(), |v, _| v.closer(&plan.hull, area, cursor));
        let window = view.window(&plan.hull, area);
        let bands = Bands::of(&plan, &study, window);
        let depth = [Depth::Mono, Depth::Sixteen, Depth::TwoFiftySix, Depth::True][depth];
        let theme = Theme::new(Ground::Light, depth);
        let brush = Brush { theme: &theme, glyphs: if ascii { Glyphs::Ascii } else { Glyphs::Block } };
        let scene = Scene {
            cursor: Some(cursor),
            ghost: Some(Ghost { gear: &gear, item: &item, against: None }),
            overlays: Overlays { inside: all, bands: Some(&bands), envelopes: all, holes: !all, water: all, cables: false, compared: None },
            ..Scene::plain(&plan, &study, &findings)
        };
        // The buffer may be smaller than the window: everything is clipped to it.
        let mut buffer = Buffer::empty(Rect::new(0, 0, width / 2 + 10, height));
        Deck { scene: &scene, window, brush }.draw(&mut buffer);
        Profile { scene: &scene, deck: window, area: Rect::new(x, y, width, rows), brush }.draw(&mut buffer);
        Section { scene: &scene, area: Rect::new(x, y, width, rows), brush }.draw(&mut buffer);
        if ascii {
            prop_assert!(buffer.content().iter().all(|cell| cell.symbol().is_ascii()));
        }
    }
}
