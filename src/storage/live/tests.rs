//! Two ends and more of one link, over real sockets.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::io::Write;
use std::os::unix::fs::MetadataExt;
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

use super::*;
use crate::catalogue;
use crate::geometry::Spot;
use crate::plan::{Name, Plan};
use crate::review::company::{Stand, VERSION};
use crate::storage::scratch::Scratch;

const PATIENCE: Duration = Duration::from_secs(20);

fn key(name: &str) -> Key {
    Key::new(name).unwrap()
}

fn plan(name: &str) -> Plan {
    let hull = &catalogue::hulls()[0].hull;
    Plan { name: Name::new(name).unwrap(), ..catalogue::plan_on(hull) }
}

fn here(who: &str, x: f64) -> Word {
    Word::Here { who: key(who), stand: Stand { spot: Spot::new(x, 0.0), close: None, overlay: None } }
}

/// Waits for the first arrival that `wanted` says yes to; what came before it is passed over.
fn until(from: &Receiver<Arrival>, wanted: impl Fn(&Arrival) -> bool) -> Arrival {
    loop {
        let arrival = from.recv_timeout(PATIENCE).unwrap();
        if wanted(&arrival) {
            return arrival;
        }
    }
}

fn host(path: &Path) -> (Host, Receiver<Arrival>) {
    let (sender, receiver) = channel();
    let host = Host::open(path, move |arrival| drop(sender.send(arrival))).unwrap();
    (host, receiver)
}

fn guest(path: &Path, name: &str) -> (Guest, Receiver<Arrival>) {
    let (sender, receiver) = channel();
    let guest = Guest::join(path, &key(name), move |arrival| drop(sender.send(arrival))).unwrap();
    (guest, receiver)
}

#[test]
fn guests_get_the_plan_and_hear_each_other_and_who_leaves() {
    let scratch = Scratch::new();
    let path = scratch.file("boat.ron", "");
    let (host, at_host) = host(&path);
    assert!(!host.has_guests());
    let (first, at_first) = guest(&path, "partner");
    assert_eq!(at_host.recv_timeout(PATIENCE), Ok(Arrival::Joined(key("partner"))));
    let (second, at_second) = guest(&path, "partner");
    assert_eq!(at_host.recv_timeout(PATIENCE), Ok(Arrival::Joined(key("partner-2"))));

    host.say_plan(&std::sync::Arc::new(plan("first try")), Some(3));
    for at in [&at_first, &at_second] {
        let told = Word::Plan { plan: Box::new(plan("first try")), unsaved: Some(3) };
        assert_eq!(at.recv_timeout(PATIENCE), Ok(Arrival::Word(told)));
    }
    // Whatever name a guest gives itself, it is told under the one it came in by, to all but itself.
    second.say(here("owner", 900.0));
    assert_eq!(at_host.recv_timeout(PATIENCE), Ok(Arrival::Word(here("partner-2", 900.0))));
    assert_eq!(at_first.recv_timeout(PATIENCE), Ok(Arrival::Word(here("partner-2", 900.0))));
    first.say(Word::Lead { who: key("partner") });
    assert_eq!(at_second.recv_timeout(PATIENCE), Ok(Arrival::Word(Word::Lead { who: key("partner") })));

    drop(second);
    let left = Arrival::Word(Word::Left { who: key("partner-2") });
    until(&at_host, |arrival| *arrival == left);
    until(&at_first, |arrival| *arrival == left);
    drop(host);
    assert_eq!(at_first.recv_timeout(PATIENCE), Ok(Arrival::Word(Word::Bye)));
    assert_eq!(at_first.recv_timeout(PATIENCE), Ok(Arrival::Gone));
}

#[test]
fn what_was_left_behind_is_replaced_and_what_is_not_ours_is_not() {
    let scratch = Scratch::new();
    let path = scratch.file("boat.ron", "");
    let socket = place(&path).unwrap();
    // The end of a program that was killed.
    drop(std::os::unix::net::UnixListener::bind(&socket).unwrap());
    assert!(Guest::join(&path, &key("partner"), drop).is_err());
    let (first, _at_first) = host(&path);
    let (second, _at_second) = host(&path);
    drop(first);
    assert!(socket.exists(), "the socket there now is another's");
    drop(second);
    assert_eq!(scratch.names(), ["boat.ron"]);

    scratch.file(".boat.ron.live", "precious");
    assert!(Host::open(&path, drop).is_err());
    assert_eq!(fs::read_to_string(&socket).unwrap(), "precious");
}

#[test]
fn who_may_read_the_plan_may_connect() {
    for (plan, socket) in [(0o600, 0o600), (0o640, 0o660), (0o644, 0o666), (0o444, 0o666), (0o000, 0o600)] {
        assert_eq!(mode_for(plan), socket, "{plan:o}");
    }
    let scratch = Scratch::new();
    let path = scratch.file("boat.ron", "");
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
    let (_host, _at_host) = host(&path);
    let about = fs::metadata(place(&path).unwrap()).unwrap();
    assert_eq!(about.mode() & 0o777, 0o660);
}

#[test]
fn a_guest_that_says_what_guests_do_not_say_is_let_go_and_nobody_else_minds() {
    let scratch = Scratch::new();
    let path = scratch.file("boat.ron", "");
    let (host, at_host) = host(&path);
    let (_good, at_good) = guest(&path, "good");
    until(&at_host, |arrival| *arrival == Arrival::Joined(key("good")));
    let line = |word: &Word| serde_json::to_string(word).unwrap() + "\n";
    let hello = |v| line(&Word::Hello { v, name: key("bad") });
    let lies = [
        "\u{1b}]52;c;AAAA\u{7}\n".to_string(),
        "x".repeat(100_000),
        line(&here("bad", 0.0)),
        hello(VERSION + 1),
        hello(VERSION) + &line(&Word::Plan { plan: Box::new(plan("not theirs to say")), unsaved: Some(0) }),
        hello(VERSION) + &line(&Word::Bye),
        hello(VERSION) + &line(&here("bad", 1e9)),
    ];
    for lie in lies {
        let mut bad = UnixStream::connect(place(&path).unwrap()).unwrap();
        // It may be let go before all was said.
        let _ = bad.write_all(lie.as_bytes());
        bad.set_read_timeout(Some(PATIENCE)).unwrap();
        let mut rest = Vec::new();
        let ended = bad.read_to_end(&mut rest);
        let reset = ended.as_ref().is_err_and(|error| error.kind() == io::ErrorKind::ConnectionReset);
        assert!(ended.is_ok() || reset, "{lie:.40}: {ended:?}");
    }
    host.say(&here("owner", 1.0));
    until(&at_good, |arrival| *arrival == Arrival::Word(here("owner", 1.0)));
    let told: Vec<Arrival> = at_host.try_iter().collect();
    let bad = key("bad");
    let only = |arrival: &Arrival| match arrival {
        Arrival::Joined(who) | Arrival::Word(Word::Left { who }) => *who == bad,
        _ => false,
    };
    assert!(told.iter().all(only), "{told:?}");
}

#[test]
fn who_is_not_let_in_is_told_so_by_the_end_alone_and_after_the_end_nobody_is() {
    let scratch = Scratch::new();
    let path = scratch.file("boat.ron", "");
    let (host, at_host) = host(&path);
    let guests: Vec<_> = (0..16).map(|n| guest(&path, &format!("guest-{n}"))).collect();
    for _ in &guests {
        until(&at_host, |arrival| matches!(arrival, Arrival::Joined(_)));
    }
    let (_one_more, at_one_more) = guest(&path, "one-more");
    assert_eq!(at_one_more.recv_timeout(PATIENCE), Ok(Arrival::Gone));
    drop(host);
    for (_guest, at_guest) in &guests {
        until(at_guest, |arrival| *arrival == Arrival::Word(Word::Bye));
        until(at_guest, |arrival| *arrival == Arrival::Gone);
    }
    assert!(Guest::join(&path, &key("late"), drop).is_err());
}

#[test]
fn of_a_thousand_steps_a_slow_guest_is_told_the_last() {
    let outbox = outbox::Outbox::default();
    for x in 0..1000 {
        outbox.put(here("owner", f64::from(x)));
        outbox.put_plan(std::sync::Arc::new(plan(&format!("step {x}"))), Some(x as usize));
        outbox.put(Word::Point { who: key("owner"), spot: Spot::new(f64::from(x), 0.0) });
    }
    outbox.close();
    let (reading, writing) = UnixStream::pair().unwrap();
    let sending = std::thread::spawn(move || outbox.send(&writing));
    let mut told = Vec::new();
    read_words(&reading, 1 << 24, |word| {
        told.push(word);
        true
    });
    sending.join().unwrap();
    assert_eq!(told[0], Word::Plan { plan: Box::new(plan("step 999")), unsaved: Some(999) });
    assert_eq!(told[1], here("owner", 999.0));
    assert_eq!(told.len(), 2 + 8);
}
