//! The whole program from outside: files, faults, terminals.

mod child;
mod load;
mod storage_faults;
mod storage_kills;
mod storage_locks;
mod storage_reads;
mod storage_saves;
mod storage_stage;
mod terminal_endings;
mod terminal_show;
