//! Commands of a shell with names in them that others chose: what is copied does what it says and no more.

use std::ffi::OsStr;
use std::fmt::Write as _;
use std::os::unix::ffi::OsStrExt;
use std::path::Path;

use crate::shown::is_unsafe;

/// A command that does something to one file or folder.
pub fn command(does: &str, path: &Path) -> String {
    format!("{does} {}", word(path.as_os_str()))
}

/// Gives a file or folder to a group.
pub fn chgrp(group: &str, path: &Path) -> String {
    command(&format!("chgrp {}", word(group.as_ref())), path)
}

/// One word that a POSIX shell (2024, for the last form) takes for exactly this name: as it stands, in single quotes, or
/// with the bytes written out where a terminal must not see them.
fn word(name: &OsStr) -> String {
    let plain = |byte: &u8| byte.is_ascii_alphanumeric() || b"_-./@%+=:,".contains(byte);
    match name.to_str() {
        Some(text) if !text.is_empty() && !text.starts_with('-') && text.bytes().all(|byte| plain(&byte)) => {
            text.into()
        }
        Some(text) if !text.starts_with('-') && !text.chars().any(is_unsafe) => {
            format!("'{}'", text.replace('\'', r"'\''"))
        }
        _ => written_out(name.as_bytes()),
    }
}

/// `$'...'`: every byte but letters and digits as three octal digits, which no digit after them can lengthen.
fn written_out(bytes: &[u8]) -> String {
    let mut word = String::from("$'");
    // A word that begins with a dash would be an option.
    if bytes.starts_with(b"-") {
        word.push_str("./");
    }
    for byte in bytes {
        if byte.is_ascii_alphanumeric() || b"_-./ ".contains(byte) {
            word.push(char::from(*byte));
        } else {
            let _ = write!(word, "\\{byte:03o}");
        }
    }
    word.push('\'');
    word
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_one_word_whatever_is_in_it() {
        fn check(name: &[u8], expected: &str) {
            assert_eq!(word(OsStr::from_bytes(name)), expected);
        }
        check(b"/srv/rigs/boat.ron", "/srv/rigs/boat.ron");
        check(b"/srv/my rigs/$(rm).ron", "'/srv/my rigs/$(rm).ron'");
        check(b"it's", r"'it'\''s'");
        check(b"", "''");
        check("bo\u{e9}".as_bytes(), "'bo\u{e9}'");
        check(b"a\x1b[2J'\n1", r"$'a\033\1332J\047\0121'");
        check(b"\xff", r"$'\377'");
        check(b"-rf", "$'./-rf'");
    }
}
