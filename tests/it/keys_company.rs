//! Others who have the plan open, by keys: who is here, follow and lead, marks, and what a partner tries on a copy.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::edit::Edit;
use gunnel::geometry::Spot;
use gunnel::plan::{Key, Plan};
use gunnel::review::Deed;
use gunnel::review::company::{Stand, Word};
use gunnel::tui::app::Overlay;
use gunnel::tui::company::Link;
use gunnel::tui::update::{Effect, company, heard};

use crate::boats::{name, rich};
use crate::stage::Stage;

fn key(name: &str) -> Key {
    Key::new(name).unwrap()
}

fn stand(x: f64, y: f64, overlay: Option<&str>) -> Stand {
    Stand { spot: Spot::new(x, y), close: Some((Spot::new(x, 0.0), 6.0)), overlay: overlay.map(key) }
}

fn here(who: &str, stand: Stand) -> Word {
    Word::Here { who: key(who), stand }
}

/// The owner's screen with a partner who stands at the switch unit.
fn owner() -> Stage {
    let mut stage = Stage::on(rich()).sized(120, 40);
    company::joined(&mut stage.app, key("partner"));
    company::told(&mut stage.app, here("partner", stand(1220.0, 310.0, None)));
    stage
}

/// A partner's screen that is joined to the owner's.
fn partner() -> Stage {
    let mut stage = Stage::looking_at(rich()).sized(120, 40);
    stage.app.editor_mut().unwrap().voice.reviewer = Some(key("partner"));
    company::shown(&mut stage.app, rich(), Some(0));
    stage
}

fn told(stage: &mut Stage) -> Vec<Word> {
    let effects = std::mem::take(&mut stage.effects);
    effects
        .into_iter()
        .map(|effect| match effect {
            Effect::Tell(word) => *word,
            other => panic!("{other:?}"),
        })
        .collect()
}

#[test]
fn the_other_stands_on_the_deck_by_a_letter_and_in_the_list_with_a_place() {
    let mut stage = owner();
    let shown = stage.lines().join("\n");
    assert!(shown.contains("with partner"), "{shown}");
    let window = stage.window();
    let cell = window.cell_of(Spot::new(1220.0, 310.0)).unwrap();
    assert_eq!(stage.buffer()[cell].symbol(), "P");
    stage.play("#");
    let shown = stage.lines().join("\n");
    assert!(shown.contains("follow partner") && shown.contains("1220 mm from stern"), "{shown}");
    // Gone from the deck with the program.
    company::told(&mut stage.app, Word::Left { who: key("partner") });
    stage.play("esc");
    assert_ne!(stage.buffer()[cell].symbol(), "P");
    assert!(!stage.lines()[0].contains("with partner"));
    stage.play("#");
    assert_eq!(stage.app.toast.as_ref().unwrap().text, "nobody else has this plan open now");
}

#[test]
fn following_takes_view_and_overlay_along_until_a_key_of_ones_own() {
    let mut stage = partner();
    company::told(&mut stage.app, here("owner", stand(2000.0, 0.0, None)));
    stage.play("&");
    assert_eq!(stage.editor().cursor, Spot::new(2000.0, 0.0));
    company::told(&mut stage.app, here("owner", stand(900.0, -200.0, Some("show-cables"))));
    assert_eq!(stage.editor().cursor, Spot::new(900.0, -200.0));
    assert_eq!(stage.editor().overlay, Some(Overlay::Cables));
    stage.play("left");
    assert_eq!(stage.editor().company.follows, None);
    assert_eq!(stage.app.toast.as_ref().unwrap().text, "not following owner any more");
    let at = stage.editor().cursor;
    company::told(&mut stage.app, here("owner", stand(2500.0, 0.0, Some("no-such-overlay"))));
    assert_eq!(stage.editor().cursor, at);
}

#[test]
fn a_free_partner_goes_along_at_once_and_whoever_types_is_asked() {
    let mut stage = partner();
    company::told(&mut stage.app, here("owner", stand(2000.0, 0.0, None)));
    company::told(&mut stage.app, Word::Lead { who: key("owner") });
    assert_eq!(stage.editor().company.follows, Some(key("owner")));

    let mut busy = partner();
    busy.play("/");
    company::told(&mut busy.app, Word::Lead { who: key("owner") });
    assert_eq!(busy.editor().company.follows, None);
    busy.play("esc &");
    assert_eq!(busy.editor().company.follows, Some(key("owner")));

    let mut owner = owner();
    let at = owner.editor().cursor;
    company::told(&mut owner.app, Word::Lead { who: key("partner") });
    assert_eq!(owner.editor().cursor, at, "nobody moves the owner's view unasked");
    owner.play("*");
    assert_eq!(told(&mut owner), [Word::Lead { who: key("owner") }]);
}

#[test]
fn a_mark_is_told_shown_on_both_sides_and_fades() {
    let mut stage = owner();
    stage.go(2000.0, 0.0).play(",");
    assert_eq!(told(&mut stage), [Word::Point { who: key("owner"), spot: Spot::new(2000.0, 0.0) }]);
    let mut other = partner();
    company::told(&mut other.app, Word::Point { who: key("owner"), spot: Spot::new(2500.0, 0.0) });
    assert_eq!(
        other.app.toast.as_ref().unwrap().text,
        "owner points at 2500 mm from stern, on the centreline, footwell floor"
    );
    let cell = other.window().cell_of(Spot::new(2500.0, 0.0)).unwrap();
    assert_eq!(other.buffer()[cell].symbol(), "◆");
    let nth = other.editor().company.points[0].nth;
    company::faded(&mut other.app, nth + 1);
    assert_eq!(other.buffer()[cell].symbol(), "◆", "another mark's time");
    company::faded(&mut other.app, nth);
    assert_ne!(other.buffer()[cell].symbol(), "◆");
}

#[test]
fn the_owner_s_edit_is_shown_as_a_change_and_a_lost_owner_leaves_the_plan_as_it_was() {
    let mut stage = partner();
    let mut plan = rich();
    let moved = plan.gear.iter().position(|gear| gear.is_placed()).unwrap();
    plan.gear[moved].label = name("moved by the owner");
    let id = plan.gear[moved].id;
    company::shown(&mut stage.app, plan.clone(), Some(2));
    assert_eq!(stage.plan(), &plan);
    assert_eq!(stage.editor().changed, [id]);
    assert!(stage.lines()[0].contains("a review, live: 2 edits not saved"), "{}", stage.lines()[0]);
    company::gone(&mut stage.app, "14:03:22 UTC".into());
    assert_eq!(stage.plan(), &plan);
    assert!(stage.lines()[0].contains("a review, owner gone since 14:03:22 UTC"), "{}", stage.lines()[0]);
    assert!(matches!(stage.editor().company.link, Link::Gone { .. }));
}

#[test]
fn what_a_partner_tries_is_suggested_with_its_reason_and_the_plan_is_as_it_was() {
    let mut stage = partner();
    let before: Plan = stage.plan().clone();
    stage.play("} ");
    assert!(stage.app.toast.as_ref().unwrap().text.contains("only be looked at"));
    stage.play("@ } } u }");
    assert_ne!(stage.plan(), &before);
    assert!(stage.lines()[0].contains("2 edits tried"), "{}", stage.lines()[0]);
    // What the owner does meanwhile goes on beside the copy.
    let mut plan = before.clone();
    plan.name = name("meanwhile");
    company::shown(&mut stage.app, plan.clone(), Some(1));
    assert_eq!(stage.plan().name, before.name);
    stage.play("@ s \"knees hit the box\" enter");
    let [Effect::Say(does)] = &stage.effects[..] else { panic!("{:?}", stage.effects) };
    let Deed::Suggest { text, edits, .. } = &**does else { panic!("{does:?}") };
    assert_eq!(text.as_str(), "knees hit the box");
    assert!(matches!(edits[..], [Edit::SetSeat { .. }, Edit::SetSeat { .. }]), "{edits:?}");
    assert!(stage.editor().draft.is_some(), "kept until it is written");
    let does = does.clone();
    heard(&mut stage.app, Some(&does));
    assert_eq!(stage.plan(), &plan);
    stage.play("}");
    assert!(stage.app.toast.as_ref().unwrap().text.contains("only be looked at"));
}

#[test]
fn a_sign_off_is_for_the_plan_that_was_read_and_not_for_one_that_came_while_it_was_written() {
    let mut stage = partner();
    let to_the_end = format!("! {}s", "right ".repeat(40));
    stage.play(&to_the_end);
    let mut plan = rich();
    plan.name = name("meanwhile");
    company::shown(&mut stage.app, plan.clone(), Some(1));
    stage.play("enter");
    assert!(stage.effects.is_empty(), "{:?}", stage.effects);
    assert!(stage.lines().join("\n").contains("changed while you wrote"), "{}", stage.lines().join("\n"));
    stage.play("esc").play(&to_the_end).play("enter");
    let [Effect::Say(does)] = &stage.effects[..] else { panic!("{:?}", stage.effects) };
    assert!(matches!(&**does, Deed::SignOff { plan: signed, .. } if signed.name == plan.name));
}

#[test]
fn nothing_is_said_about_a_copy() {
    for key in [";", "Y", "Z", "!"] {
        let mut stage = partner();
        stage.play("@ }").play(key);
        assert!(stage.app.toast.as_ref().unwrap().text.contains("@ suggests or drops"), "{key}");
        assert!(stage.app.layers.is_empty() && stage.effects.is_empty(), "{key}");
    }
}

#[test]
fn what_is_tried_can_be_dropped_and_is_not_left_by_accident() {
    let mut stage = partner();
    stage.play("@ @");
    assert_eq!(stage.app.toast.as_ref().unwrap().text, "nothing was tried");
    stage.play("@ } q");
    assert!(stage.effects.is_empty());
    assert!(stage.lines().join("\n").contains("1 edit was tried"));
    stage.play("d q");
    assert_eq!(stage.plan(), &rich());
    assert_eq!(stage.effects, [Effect::Quit]);

    let mut owner = owner();
    owner.play("@");
    assert!(owner.editor().draft.is_none());
    // Nor can a copy be saved by any key.
    let mut stage = partner();
    stage.play("@ } ctrl-s W w ctrl-o ctrl-z");
    assert!(stage.effects.is_empty(), "{:?}", stage.effects);
}
