//! What is said about the plan: read from the folder beside it, written into it.

use std::time::{SystemTime, UNIX_EPOCH};

use super::rim::Rim;
use crate::review::{Deed, talk};
use crate::storage::comments::Comments;
use crate::tui::app::App;
use crate::tui::update::heard;

impl Rim {
    /// Reads what was said about the plan. `done` was said here just now.
    pub(super) fn hear(&mut self, app: &mut App, done: Option<&Deed>) {
        let Some(path) = app.editor().and_then(|editor| editor.file.path.clone()) else { return };
        let comments = Comments::beside(&path);
        // Watched before it is read: what is written in between is read by the next message.
        if !self.listens && comments.folder().is_dir() {
            self.follow(&path);
        }
        let all = comments.read();
        let Some(editor) = app.editor_mut() else { return };
        editor.voice.talk = talk(editor.reviewed(), &all.authors);
        editor.voice.troubles = all.troubles;
        heard(app, done);
    }

    /// Writes what was said beside the plan.
    pub(super) fn say(&mut self, app: &mut App, does: Deed) {
        let Some(editor) = app.editor() else { return };
        let (Some(path), Some(author)) = (editor.file.path.clone(), editor.voice.author()) else { return };
        let now = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default().as_secs();
        match Comments::beside(&path).add(&author, does, now) {
            Ok(entry) => {
                self.hear(app, Some(&entry.does));
                // What was taken over says for itself what it was.
                if app.toast.is_none() {
                    app.say("said");
                }
            }
            Err(why) => app.refuse(format!("not written: {why}")),
        }
    }
}
