//! The system calls of a whole review: it writes into the folder of comments alone, runs nothing, and reads no other
//! file of the person's. The same judge finds what an owner writes, so it is not blind.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use gunnel::tui::action::{ACTIONS, Action};

use crate::child::works;
use crate::terminal_home::{ESC, Home, PLACE_A_CRATE, SAVE, play, say};

/// Calls that open, make, change or remove a file, run a program or reach another one. A question mark lets a kernel be
/// without it.
const CALLS: &str = "trace=?open,?openat,?openat2,?creat,?execve,?execveat,?unlink,?unlinkat,?rmdir,?rename,?renameat,\
    ?renameat2,?mkdir,?mkdirat,?mknod,?mknodat,?link,?linkat,?symlink,?symlinkat,?chmod,?fchmod,?fchmodat,?chown,\
    ?fchown,?fchownat,?truncate,?ftruncate,?setxattr,?fsetxattr,?utimensat,?socket,?connect,?bind";

/// What any program reads as it starts, and its terminal.
const ALLOWED: &[&str] = &[
    "/etc/ld.so",
    "/etc/localtime",
    "/lib",
    "/usr/lib",
    "/proc/",
    "/sys/",
    "/dev/tty",
    "/dev/pts/",
    "/dev/null",
    "/usr/share/",
];

/// One call: its name, what it was given, what came of it.
struct Call {
    name: String,
    given: String,
    result: String,
}

impl Call {
    /// The files it names, absolute. With `-y` strace says what a number or an answer stands for.
    fn files(&self, home: &Path) -> Vec<String> {
        let quoted = self.given.split('"').skip(1).step_by(2);
        let mut files: Vec<String> = quoted.map(|name| home.join(name).to_string_lossy().into_owned()).collect();
        if files.is_empty() {
            files.extend(self.given.split_once('<').and_then(|(_, rest)| Some(rest.split_once('>')?.0.to_string())));
        }
        files
    }

    fn opens(&self) -> bool {
        self.name.starts_with("open")
    }

    fn only_reads(&self) -> bool {
        self.opens()
            && !["O_WRONLY", "O_RDWR", "O_CREAT", "O_TRUNC", "O_APPEND"].iter().any(|way| self.given.contains(way))
    }
}

/// The calls of a trace in which threads may have interrupted each other.
fn calls(trace: &str) -> Vec<Call> {
    let mut begun: BTreeMap<&str, String> = BTreeMap::new();
    let mut calls = Vec::new();
    for line in trace.lines() {
        let Some((process, rest)) = line.split_once(' ') else { continue };
        let rest = rest.trim_start();
        if let Some(start) = rest.strip_suffix(" <unfinished ...>") {
            begun.insert(process, start.to_string());
            continue;
        }
        let whole = match rest.strip_prefix("<... ").and_then(|rest| rest.split_once(" resumed>")) {
            Some((_, end)) => begun.remove(process).unwrap_or_default() + end,
            None => rest.to_string(),
        };
        let Some((name, rest)) = whole.split_once('(') else { continue };
        let (given, result) = rest.rsplit_once(" = ").unwrap_or((rest, ""));
        calls.push(Call { name: name.into(), given: given.into(), result: result.into() });
    }
    calls
}

/// What a review must not have done, a line each. A call that the system refused counts as well.
fn faults(trace: &str, home: &Path) -> Vec<String> {
    let (plan, said) = (home.join("boat.ron"), home.join("boat.ron.comments"));
    let live = home.join(".boat.ron.live");
    let mut ran = 0;
    let mut faults = Vec::new();
    for call in calls(trace) {
        let files = call.files(home);
        let within = |folder: &Path| !files.is_empty() && files.iter().all(|file| Path::new(file).starts_with(folder));
        let terminal = within(Path::new("/dev"));
        let allowed = match call.name.as_str() {
            "execve" | "execveat" => {
                ran += 1;
                ran == 1
            }
            "socket" => call.given.starts_with("AF_UNIX"),
            "connect" => within(&live),
            _ if within(&said) || terminal => true,
            _ if call.only_reads() => {
                let known = |file: &String| ALLOWED.iter().any(|start| file.starts_with(start));
                within(&plan) || files.iter().all(|file| Path::new(file) == home || known(file))
            }
            _ => false,
        };
        if !allowed {
            faults.push(format!("{}({} = {}", call.name, call.given, call.result));
        }
    }
    if ran == 0 {
        faults.push("the trace does not even have the program's own start".into());
    }
    faults
}

/// A key as the bytes that a terminal sends.
fn bytes(key: &str) -> String {
    let arrow = |letter: char| match key.split_once('-') {
        Some(("shift", _)) => format!("\x1b[1;2{letter}"),
        Some(("ctrl", _)) => format!("\x1b[1;5{letter}"),
        _ => format!("\x1b[{letter}"),
    };
    match key.trim_start_matches("shift-").trim_start_matches("ctrl-") {
        "up" => arrow('A'),
        "down" => arrow('B'),
        "right" => arrow('C'),
        "left" => arrow('D'),
        "home" => "\x1b[H".into(),
        "end" => "\x1b[F".into(),
        "pageup" => "\x1b[5~".into(),
        "pagedown" => "\x1b[6~".into(),
        "delete" => "\x1b[3~".into(),
        "tab" if key.starts_with("shift-") => "\x1b[Z".into(),
        "tab" => "\t".into(),
        "enter" => "\r".into(),
        "esc" => ESC.into(),
        "backspace" => "\x7f".into(),
        "space" => " ".into(),
        letter if key.starts_with("ctrl-") => char::from(letter.as_bytes()[0] & 0x1f).into(),
        letter => letter.into(),
    }
}

/// Every key of the table but those that quit, each followed by leaving whatever it opened.
fn every_key() -> String {
    let rows = ACTIONS.iter().filter(|row| row.action != Action::Quit);
    rows.flat_map(|row| row.keys).map(|key| bytes(key) + &ESC.repeat(3)).collect()
}

/// Whether a program can be traced here; says so where it cannot.
fn can_trace() -> bool {
    works(&["strace", "-f", "-y", "-qq", "-o", "/dev/null", "-e", "trace=?openat,?execve", "true"])
}

/// Starts the program so that its calls are written into a file.
fn traced(home: &Home, trace: &Path, arguments: &[&str]) -> crate::terminal_show::Show {
    let trace = trace.to_str().unwrap();
    home.start_within(&["strace", "-f", "-y", "-qq", "-s", "4096", "-o", trace, "-e", CALLS], arguments)
}

#[test]
fn a_review_writes_comments_alone_runs_nothing_and_reads_nothing_else() {
    if !can_trace() {
        return;
    }
    let home = Home::new();
    // There to be found, and not to be read.
    fs::write(home.path("other.ron"), "not for a partner").unwrap();
    fs::create_dir_all(home.path("data/gunnel/catalogue")).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let trace = folder.path().join("trace");
    let mut show = traced(&home, &trace, &["review", "boat.ron", "--as", "partner"]);
    show.wait_for("a review");
    say(&mut show, &[(";", "say something about")], "too high\r", "said");
    say(&mut show, &[("Y", "too high"), ("\r", "a answer"), ("a", "esc leaves it")], "lower\r", "lower");
    say(&mut show, &[("!", "1 of 40")], "g", "2 of 40");
    let last = "\x1b[C".repeat(40);
    say(&mut show, &[("!", "2 of 40"), (&last, "s sign off"), ("s", "sign the plan off")], "\r", "signed by partner");
    show.type_in(&ESC.repeat(3));
    show.type_in(&every_key());
    // One of the keys has begun a copy to try on, about which nothing is said: it is dropped.
    show.type_in(&ESC.repeat(3));
    show.type_in("@d");
    say(&mut show, &[(";", "say something about")], "all played\r", "said");
    show.type_in("q");
    assert_eq!(show.end(), 0);
    let said = fs::read_to_string(home.path("boat.ron.comments/partner.lines")).unwrap();
    assert!(said.contains("all played") && said.contains("SignOff"), "{said}");
    let faults = faults(&fs::read_to_string(&trace).unwrap(), &home.path(""));
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn the_judge_sees_what_an_owner_writes() {
    if !can_trace() {
        return;
    }
    let home = Home::new();
    let folder = tempfile::tempdir().unwrap();
    let trace = folder.path().join("trace");
    let mut show = traced(&home, &trace, &["boat.ron"]);
    show.wait_for("q quit");
    play(&mut show, PLACE_A_CRATE);
    play(&mut show, SAVE);
    show.type_in("q");
    assert_eq!(show.end(), 0);
    let faults = faults(&fs::read_to_string(&trace).unwrap(), &home.path(""));
    for (call, file) in [("rename", "boat.ron"), ("open", "boat.ron"), ("mkdir", "state")] {
        let found = faults.iter().any(|fault| fault.starts_with(call) && fault.contains(file));
        assert!(found, "no {call} of {file} among:\n{}", faults.join("\n"));
    }
}

#[test]
fn the_judge_knows_each_kind_of_call() {
    let start = "9 execve(\"/bin/gunnel\", [\"gunnel\"], 0x1 /* 2 vars */) = 0\n";
    let fault = |line: &str| faults(&format!("{start}{line}\n"), Path::new("/h")).len();
    for fine in [
        "9 openat(AT_FDCWD</h>, \"boat.ron\", O_RDONLY|O_CLOEXEC) = 3</h/boat.ron>",
        "9 openat(AT_FDCWD</h>, \"/h/boat.ron.comments/ana.lines\", O_RDWR|O_CREAT, 0640) = 3</h/boat.ron.comments/ana.lines>",
        "9 mkdir(\"/h/boat.ron.comments\", 0777) = 0",
        "9 openat(AT_FDCWD</h>, \"/dev/tty\", O_RDWR) = 3</dev/tty>",
        "9 connect(3<socket:[1]>, {sa_family=AF_UNIX, sun_path=\"/h/.boat.ron.live\"}, 110) = 0",
    ] {
        assert_eq!(fault(fine), 0, "{fine}");
    }
    for wrong in [
        "9 openat(AT_FDCWD</h>, \"boat.ron\", O_WRONLY) = -1 EACCES (Permission denied)",
        "9 openat(AT_FDCWD</h>, \"other.ron\", O_RDONLY) = 3</h/other.ron>",
        "9 openat(AT_FDCWD</h>, \"/etc/passwd\", O_RDONLY) = 3</etc/passwd>",
        "9 openat(AT_FDCWD</h>, \"state\" <unfinished ...>\n9 <... openat resumed>, O_WRONLY|O_CREAT, 0644) = 3</h/state>",
        "9 rename(\"/h/boat.ron.comments/a\", \"/h/boat.ron\") = 0",
        "9 unlink(\"boat.ron\") = 0",
        "9 ftruncate(3</h/boat.ron>, 0) = 0",
        "9 execve(\"/bin/sh\", [\"sh\"], 0x1 /* 2 vars */) = 0",
        "9 socket(AF_INET, SOCK_STREAM, 0) = 3",
        "9 connect(3<socket:[1]>, {sa_family=AF_UNIX, sun_path=\"/run/other\"}, 110) = 0",
    ] {
        assert_eq!(fault(wrong), 1, "{wrong}");
    }
}
