//! Owner and partner in two terminals: a comment is answered, a suggestion taken over with credit as one step, the
//! plan saved and signed, and the next edit voids the signature.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::edit::Edit;
use gunnel::plan::{Anchor, Key, Note};
use gunnel::review::Deed;
use gunnel::review::whereabouts::pin;
use gunnel::storage::comments::Comments;

use crate::boats::{name, rich};
use crate::terminal_home::{ESC, Home, SAVE, play, say};

/// The titles of 80 columns cut what they say of a sign-off short; the words looked for are shorter.
#[test]
fn comment_suggestion_accept_sign_off_void() {
    let home = Home::with(&rich());
    let mut owner = home.open();
    let mut partner = home.start(&["review", "boat.ron", "--as", "partner"]);
    partner.wait_for("a review");
    say(&mut partner, &[(";", "say something about")], "too high\r", "said");
    say(&mut owner, &[("", "§"), ("Y", "too high"), ("\r", "a answer"), ("a", "esc leaves it")], "lower\r", "owner, ");
    play(&mut partner, &[("Y", "answered"), (ESC, "q quit")]);

    suggest(&home);
    owner.type_in(&ESC.repeat(3));
    play(&mut owner, &[("Z", "clearer")]);
    let before = home.plan();
    say(&mut owner, &[("Y", "clearer"), ("clearer", "› clearer"), ("\r", "take it over")], "\r", "taken over by owner");
    owner.type_in(&ESC.repeat(3));
    play(&mut owner, &[("", "1 edit not saved"), ("u", "undone"), ("U", "partner")]);
    partner.wait_for("1 edit not sa");
    play(&mut owner, SAVE);
    let saved = home.plan();
    assert_eq!(saved.gear[0].label.as_str(), "better name");
    assert_ne!(saved, before);

    partner.wait("the save is told", |screen| !screen.contents().contains("not sa"));
    let last = "\x1b[C".repeat(40);
    say(&mut partner, &[("!", "1 of 40"), (&last, "s sign off"), ("s", "sign the plan off")], "\r", "signed by");
    owner.wait_for("signed by");
    play(&mut owner, &[("}", "sign-off v")]);
    play(&mut owner, SAVE);
    partner.wait_for("sign-off v");
    partner.type_in(&ESC.repeat(3));
    partner.type_in("q");
    assert_eq!(partner.end(), 0);
    partner.is_given_back();
}

/// The partner suggests to call the first gear otherwise, a second after what was said last.
fn suggest(home: &Home) {
    let plan = home.plan();
    let gear = plan.gear[0].id;
    let on = pin(&plan, &Anchor::Gear(gear)).unwrap();
    let edits = vec![Edit::Rename { gear, label: name("better name") }];
    let does = Deed::Suggest { on, text: Note::new("clearer").unwrap(), edits, next: None };
    let comments = Comments::beside(&home.plan_file());
    let author = Key::new("partner").unwrap();
    let last = comments.read().authors[&author].last().unwrap().at_s;
    comments.add(&author, does, last + 1).unwrap();
}
