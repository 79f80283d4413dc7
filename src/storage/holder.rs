//! Who is at work: written into locks and journals so that the next person is told by whom a plan is held.

use serde::{Deserialize, Serialize};

use super::paths::Env;

/// The longest name that is believed, in characters.
const LONGEST_NAME: usize = 64;

/// One running program, as it tells others. Only words for a message: a lock is held because the system says so.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Holder {
    /// Login name.
    pub user: String,
    /// Name of the machine.
    pub host: String,
    /// Process number.
    pub pid: u32,
    /// Identity of the machine's last start, without which a process number means nothing.
    pub boot: String,
    /// When the plan was opened, seconds since 1970.
    pub since_s: u64,
}

impl Holder {
    /// This process; the clock is the caller's.
    pub fn this_process(env: &Env, since_s: u64) -> Self {
        let kernel = |name: &str| {
            let text = std::fs::read_to_string(format!("/proc/sys/kernel/{name}"));
            text.unwrap_or_default().trim().to_owned()
        };
        Self {
            user: env.text("USER").or_else(|| env.text("LOGNAME")).unwrap_or_default(),
            host: kernel("hostname"),
            pid: std::process::id(),
            boot: kernel("random/boot_id"),
            since_s,
        }
        .tame()
    }

    /// The holder that `bytes` name, if they do; a lock file may hold anything.
    pub(super) fn from_bytes(bytes: &[u8]) -> Option<Self> {
        serde_json::from_slice::<Self>(bytes).ok().map(Self::tame)
    }

    pub(super) fn to_bytes(&self) -> Vec<u8> {
        let mut text = serde_json::to_vec(self).unwrap_or_default();
        text.push(b'\n');
        text
    }

    /// Names go to the screen: nothing in them may steer it.
    fn tame(mut self) -> Self {
        for name in [&mut self.user, &mut self.host, &mut self.boot] {
            *name = name
                .chars()
                .filter(|letter| letter.is_alphanumeric() || "-_.@ ".contains(*letter))
                .take(LONGEST_NAME)
                .collect();
        }
        self
    }
}

impl std::fmt::Display for Holder {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let or = |name: &str, other: &str| {
            if name.is_empty() { other.to_owned() } else { name.to_owned() }
        };
        let (user, host) = (or(&self.user, "somebody"), or(&self.host, "some machine"));
        write!(f, "{user} on {host} (process {})", self.pid)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_file_says_is_believed_only_as_far_as_it_is_harmless() {
        fn check(bytes: &str, expected: Option<&str>) {
            let says = Holder::from_bytes(bytes.as_bytes()).map(|holder| holder.to_string());
            assert_eq!(says.as_deref(), expected, "{bytes}");
        }
        let file = |user: &str| format!(r#"{{"user":"{user}","host":"","pid":7,"boot":"b","since_s":1}}"#);
        check(&file("kim"), Some("kim on some machine (process 7)"));
        check(&file(r"\u001b[2Jkim\u202e"), Some("2Jkim on some machine (process 7)"));
        check("", None);
        check("{}", None);
        check("\u{0}\u{0}", None);
    }

    #[test]
    fn a_holder_survives_its_own_file() {
        let env = Env::of([("USER", "kim")]);
        let me = Holder::this_process(&env, 1_700_000_000);
        assert_eq!(me.user, "kim");
        assert_eq!(Holder::from_bytes(&me.to_bytes()), Some(me));
    }
}
