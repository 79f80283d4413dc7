//! Writing into the file itself, where a rename would break links or is not possible: guarded by an image.
//!
//! Until the new bytes are synced and read back, the old ones stand synced in the state folder. A kill in between
//! leaves the image, and [`super::backup::unfinished`] finds it when the plan is opened next.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Seek, Write};
use std::os::unix::fs::OpenOptionsExt;
use std::path::Path;

use super::atomic::{Current, SaveError, Saved, Saver, failed};
use super::source::{self, Generation};
use super::{backup, paths};

impl Saver {
    /// Writes `bytes` into the file at `path` itself, after the person agreed to what [`SaveError::NeedsInPlace`]
    /// said. The file must be the `expected` version.
    pub fn save_in_place(&mut self, path: &Path, bytes: &[u8], expected: &Generation) -> Result<Saved, SaveError> {
        let real = paths::real_path(path).map_err(failed("following the path"))?;
        let old = Current::matching(&real, Some(expected))?.ok_or(SaveError::Gone)?;
        old.may_be_written()?;
        let mut warnings = Vec::new();
        self.back_up(&real, Some(&old), &mut warnings);
        let state = self.state.as_deref().ok_or_else(|| SaveError::NoImage(io::ErrorKind::NotFound.into()))?;
        let image = backup::image_of(state, &real);
        backup::write_synced(&image, &old.bytes).map_err(SaveError::NoImage)?;

        let mut file = open(&real).map_err(failed("opening"))?;
        let written = write_over(&mut file, bytes);
        if let Err(error) = written {
            return Err(match write_over(&mut file, &old.bytes) {
                Ok(()) => {
                    let _ = fs::remove_file(&image);
                    failed("writing in place")(error)
                }
                Err(_) => SaveError::Torn { image, error },
            });
        }
        let _ = fs::remove_file(&image);
        Saved::of(&file, bytes, warnings)
    }
}

fn open(real: &Path) -> io::Result<File> {
    let flags = rustix::fs::OFlags::NOFOLLOW | rustix::fs::OFlags::NONBLOCK;
    OpenOptions::new().read(true).write(true).custom_flags(flags.bits().cast_signed()).open(real)
}

/// Makes `bytes` the whole of `file`, synced and read back.
fn write_over(file: &mut File, bytes: &[u8]) -> io::Result<()> {
    file.rewind()?;
    file.write_all(bytes)?;
    file.set_len(bytes.len() as u64)?;
    file.sync_all()?;
    file.rewind()?;
    if source::read_up_to(file, bytes.len() as u64 + 1)? == bytes {
        Ok(())
    } else {
        Err(io::Error::other("what was read back is not what was written"))
    }
}
