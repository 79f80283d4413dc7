//! A review over a real ssh, with the line of the README as the one thing a partner's key may do: the plan and nothing
//! else, and both sides sound when the link is cut.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
#![allow(clippy::print_stderr, reason = "a test that cannot run here must say so")]

use std::fs;
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use gunnel::review::Entry;
use rustix::process::{Pid, Signal, kill_process};

use crate::child::works;
use crate::terminal_home::{ESC, Home, PROGRAM, play, say};
use crate::terminal_show::{PATIENCE, Show};

const SERVER: &str = "/usr/sbin/sshd";

/// A server of ssh of its own on this machine, with a partner's key that is bound to a review and one that is not.
struct Server {
    home: Home,
    folder: tempfile::TempDir,
    port: u16,
    user: String,
    process: Child,
}

impl Server {
    /// Starts one; says why where there can be none.
    fn start() -> Option<Self> {
        if !works(&["ssh", "-V"]) || !works(&["id", "-un"]) || !Path::new(SERVER).exists() {
            eprintln!("SKIPPED: no ssh and sshd on this machine; `.ci/run` installs them where it can");
            return None;
        }
        if rustix::process::geteuid().is_root() && fs::create_dir_all("/run/sshd").is_err() {
            eprintln!("SKIPPED: /run/sshd, which sshd keeps empty, cannot be made");
            return None;
        }
        let (home, folder) = (Home::new(), tempfile::tempdir().unwrap());
        for name in ["host", "partner", "free"] {
            let key = folder.path().join(name);
            let key = key.to_str().unwrap();
            if !works(&["ssh-keygen", "-q", "-t", "ed25519", "-N", "", "-f", key]) {
                return None;
            }
        }
        let port = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().port();
        let user = Command::new("id").arg("-un").output().unwrap().stdout;
        let user = String::from_utf8(user).unwrap().trim().to_string();
        let place = folder.path().display().to_string();
        let keys = format!("{}\n{}", line_of_the_readme(&home, &folder), public(&folder, "free"));
        fs::write(folder.path().join("keys"), keys).unwrap();
        // What a session writes of its own would go into this home, not into the person's.
        let env = format!("HOME={0} XDG_STATE_HOME={0}/state XDG_DATA_HOME={0}/data", home.path("").display());
        let config = format!(
            "Port {port}\nListenAddress 127.0.0.1\nHostKey {place}/host\nPidFile none\n\
             AuthorizedKeysFile {place}/keys\nStrictModes no\nUsePAM no\nPasswordAuthentication no\n\
             KbdInteractiveAuthentication no\nPermitRootLogin prohibit-password\nPrintMotd no\nSetEnv {env}\n"
        );
        fs::write(folder.path().join("config"), config).unwrap();
        let process = Command::new(SERVER)
            .args(["-D", "-f", &format!("{place}/config"), "-E", &format!("{place}/log")])
            .stdin(Stdio::null())
            .spawn()
            .unwrap();
        let server = Self { home, folder, port, user, process };
        until("the server listens", || TcpStream::connect(("127.0.0.1", port)).is_ok());
        let free = server.run("free", &[], &["true"]);
        if !free.status.success() {
            eprintln!("SKIPPED: this user cannot log in by ssh: {}{}", server.log(), errors(&free));
            return None;
        }
        Some(server)
    }

    fn log(&self) -> String {
        fs::read_to_string(self.folder.path().join("log")).unwrap_or_default()
    }

    /// The words of a call with one of the keys.
    fn words(&self, key: &str, options: &[&str], asked: &[&str]) -> Vec<String> {
        let key = self.folder.path().join(key).display().to_string();
        let port = self.port.to_string();
        let mut words: Vec<&str> = vec!["ssh", "-F", "none", "-p", &port, "-i", &key];
        for option in [
            "IdentitiesOnly=yes",
            "BatchMode=yes",
            "StrictHostKeyChecking=no",
            "UserKnownHostsFile=/dev/null",
            "LogLevel=ERROR",
        ] {
            words.extend(["-o", option]);
        }
        words.extend(options);
        let target = format!("{}@127.0.0.1", self.user);
        words.push(&target);
        words.extend(asked);
        words.into_iter().map(String::from).collect()
    }

    /// Calls without a terminal and waits for the end.
    fn run(&self, key: &str, options: &[&str], asked: &[&str]) -> Output {
        let words = self.words(key, options, asked);
        Command::new(&words[0]).args(&words[1..]).stdin(Stdio::null()).output().unwrap()
    }

    /// The partner calls from a terminal, and asks for something.
    fn call(&self, asked: &[&str]) -> Show {
        let words = self.words("partner", &["-tt"], asked);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        self.home.start_command(&words)
    }

    /// The reviews that run at the far end.
    fn reviews(&self) -> Vec<i32> {
        let plan = self.home.plan_file().display().to_string();
        let ours = |words: &[String]| words.first().is_some_and(|first| first == PROGRAM) && words.contains(&plan);
        processes().into_iter().filter(|process| ours(&command_line(*process))).collect()
    }

    /// What the partner said, each line whole.
    fn entries(&self) -> Vec<Entry> {
        let file = self.home.path("boat.ron.comments/partner.lines");
        let text = fs::read_to_string(file).unwrap_or_default();
        text.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

/// The README's line for `authorized_keys`, with this program, this plan and this key in it.
fn line_of_the_readme(home: &Home, folder: &tempfile::TempDir) -> String {
    let readme = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap();
    let line = readme.lines().find(|line| line.starts_with("restrict,pty,command=")).expect("the line of a key");
    let plan = home.plan_file().display().to_string();
    let key = public(folder, "partner");
    let mut line = line.to_string();
    for (shown, here) in
        [("/usr/bin/gunnel", PROGRAM), ("/srv/rigs/boat.ron", plan.as_str()), ("ssh-ed25519 KEY", key.as_str())]
    {
        assert!(line.contains(shown), "{line} has no {shown}");
        line = line.replace(shown, here);
    }
    line
}

fn public(folder: &tempfile::TempDir, key: &str) -> String {
    fs::read_to_string(folder.path().join(format!("{key}.pub"))).unwrap().trim().to_string()
}

fn processes() -> Vec<i32> {
    let names = fs::read_dir("/proc").unwrap().flatten();
    names.filter_map(|entry| entry.file_name().to_str()?.parse().ok()).collect()
}

fn command_line(process: i32) -> Vec<String> {
    let words = fs::read(format!("/proc/{process}/cmdline")).unwrap_or_default();
    words.split(|byte| *byte == 0).map(|word| String::from_utf8_lossy(word).into_owned()).collect()
}

/// The part of the server that holds the link of a process: its nearest ancestor that is one.
fn link_of(mut process: i32) -> i32 {
    loop {
        let status = fs::read_to_string(PathBuf::from(format!("/proc/{process}/status"))).unwrap();
        let field = |name: &str| status.lines().find_map(|line| Some(line.strip_prefix(name)?.trim().to_string()));
        if field("Name:").is_some_and(|name| name.starts_with("sshd")) {
            return process;
        }
        process = field("PPid:").unwrap().parse().unwrap();
    }
}

fn kill(process: i32) {
    kill_process(Pid::from_raw(process).unwrap(), Signal::KILL).unwrap();
}

/// Looks again and again until it is so.
fn until(what: &str, so: impl Fn() -> bool) {
    let start = Instant::now();
    while !so() {
        assert!(start.elapsed() < PATIENCE, "never: {what}");
        thread::sleep(Duration::from_millis(5));
    }
}

fn errors(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[test]
fn a_partner_sees_the_plan_says_something_and_leaves() {
    let Some(server) = Server::start() else { return };
    let before = fs::read(server.home.plan_file()).unwrap();
    let mut partner = server.call(&[]);
    partner.wait_for("a review");
    say(&mut partner, &[(";", "say something about")], "too high\r", "said");
    partner.type_in("q");
    assert_eq!(partner.end(), 0);
    partner.is_given_back();
    assert_eq!(server.entries().len(), 1);
    assert_eq!(fs::read(server.home.plan_file()).unwrap(), before);
    until("the far end is gone", || server.reviews().is_empty());
}

#[test]
fn whatever_is_asked_for_the_key_gives_the_review_alone() {
    let Some(server) = Server::start() else { return };
    let mut partner = server.call(&["cat", "/etc/passwd"]);
    partner.wait_for("a review");
    partner.type_in("q");
    assert_eq!(partner.end(), 0);
    let seen = String::from_utf8_lossy(&partner.written.lock().unwrap()).into_owned();
    assert!(!seen.contains("root:"), "{seen}");

    let asked = &["cat", "/etc/passwd"];
    let reads = |key: &str| String::from_utf8_lossy(&server.run(key, &[], asked).stdout).contains("root:");
    assert!(reads("free"), "a key that is not bound reads it");
    assert!(!reads("partner"));

    // Through a forwarded port the server's own greeting would come back.
    let door = format!("127.0.0.1:{}", server.port);
    let greets = |key: &str| server.run(key, &["-W", &door], &[]).stdout.starts_with(b"SSH-2.0");
    assert!(greets("free"), "a key that is not bound may forward");
    assert!(!greets("partner"));
    assert!(!server.home.path("state").exists(), "a review keeps nothing of its own");
}

#[test]
fn a_link_that_is_cut_leaves_both_sides_sound() {
    let Some(server) = Server::start() else { return };
    let mut owner = server.home.open();
    for (times, cut) in [(1, "the caller"), (2, "the server's end")] {
        let mut partner = server.call(&[]);
        partner.wait_for("a review");
        say(&mut partner, &[(";", "say something about")], &format!("word {times}\r"), "said");
        until("one far end", || server.reviews().len() == 1);
        let far = server.reviews()[0];
        match cut {
            "the caller" => kill(i32::try_from(partner.child.process_id().unwrap()).unwrap()),
            _ => kill(link_of(far)),
        }
        until("the far end is gone", || server.reviews().is_empty());
        partner.end();
        assert_eq!(server.entries().len(), times, "{cut}");
        play(&mut owner, &[(ESC, "§"), ("Y", &format!("word {times}")), (ESC, "q quit")]);
    }
    play(&mut owner, &[("}", "1 edit not saved"), ("\x13", "saved boat.ron")]);
    let mut partner = server.call(&[]);
    play(&mut partner, &[("", "a review"), ("Y", "word 1")]);
    partner.type_in(ESC);
    partner.wait("the list closed", |screen| !screen.contents().contains("word 1"));
    partner.type_in("q");
    assert_eq!(partner.end(), 0);
}
