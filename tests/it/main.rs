//! The whole program from outside: files, faults, terminals.

mod child;
mod published_body;
mod storage_faults;
mod storage_locks;
mod storage_saves;
mod terminal_endings;
