//! A question with a few answers, each a letter. Asked only for what undo cannot reach.

use std::path::PathBuf;

use crossterm::event::{KeyCode, KeyEvent};

use super::Reply;

/// A question.
#[derive(Clone, Debug)]
pub struct Question {
    /// What is asked.
    pub title: String,
    /// Why, and what each answer does.
    pub text: Vec<String>,
    /// Letter, words, meaning.
    pub answers: Vec<(char, &'static str, Answer)>,
}

/// What an answer does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Save, then quit.
    SaveAndQuit,
    /// Quit; the journal keeps the edits.
    QuitKeeping,
    /// Replay what was lost.
    Recover,
    /// Set the lost edits aside.
    Discard,
    /// Write over what somebody else wrote.
    Overwrite,
    /// Read the file anew.
    Reload,
    /// Write in place although a cut-off could tear it.
    WriteInPlace,
    /// Write over a file that is not the plan's own.
    Replace(PathBuf),
    /// Suggest what was tried.
    Suggest,
    /// Drop what was tried.
    DropDraft,
    /// Use the hull of the tape interview.
    UseTape,
    /// Leave the tape interview without its readings.
    LeaveTape,
    /// Do nothing.
    Nothing,
}

impl Question {
    /// Takes a key: a letter answers, escape does nothing. Enter answers nothing by itself, so that
    /// keys typed ahead cannot destroy anything.
    pub fn key(&mut self, key: &KeyEvent) -> Reply {
        match key.code {
            KeyCode::Esc => Reply::Answered(Answer::Nothing),
            KeyCode::Char(c) => {
                let given = self.answers.iter().find(|(letter, _, _)| letter.eq_ignore_ascii_case(&c));
                given.map_or(Reply::Stay, |(_, _, answer)| Reply::Answered(answer.clone()))
            }
            _ => Reply::Stay,
        }
    }
}
