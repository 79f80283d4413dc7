//! Owner, mode, access list: a saved plan looks from outside as it did before, or a warning says what it lost.

use std::fs::{File, Metadata, Permissions};
use std::io;
use std::os::unix::fs::{MetadataExt, PermissionsExt, fchown};
use std::path::Path;

use super::atomic::Warning;

/// The access list beyond owner, group and others.
const ACCESS_LIST: &[u8] = b"system.posix_acl_access";
/// Attributes that a person set.
const OWN_ATTRIBUTES: &[u8] = b"user.";
/// The longest attribute that is copied, in bytes.
const LONGEST: usize = 64 * 1024;

/// Gives `new` the owner, mode and attributes of the file at `real`, which `old` describes. Only a mode that cannot
/// be set is an error: a private plan must not become a public one.
pub(super) fn copy(real: &Path, old: &Metadata, new: &File, warnings: &mut Vec<Warning>) -> io::Result<()> {
    let fresh = new.metadata()?;
    let mut mode = old.mode() & 0o7777;
    let mut owner_kept = fresh.uid() == old.uid();
    let mut group_kept = fresh.gid() == old.gid();
    if !(owner_kept && group_kept) {
        if fchown(new, Some(old.uid()), Some(old.gid())).is_ok() {
            (owner_kept, group_kept) = (true, true);
        } else if !group_kept {
            group_kept = fchown(new, None, Some(old.gid())).is_ok();
        }
    }
    if !owner_kept {
        mode &= !0o4000;
        warnings.push(Warning::Owner);
    }
    if !group_kept {
        mode &= !0o2070;
        warnings.push(Warning::Group);
    }
    new.set_permissions(Permissions::from_mode(mode))?;
    for name in names(real) {
        // An access list names groups, so it goes the way of the group.
        let wanted = name.starts_with(OWN_ATTRIBUTES) || (group_kept && name == ACCESS_LIST);
        if wanted && copy_one(real, &name, new).is_err() {
            warnings.push(Warning::Attribute(String::from_utf8_lossy(&name).into()));
        }
    }
    Ok(())
}

/// The names of the attributes of a file; none where there is no such thing.
fn names(real: &Path) -> Vec<Vec<u8>> {
    let mut list = vec![0; LONGEST];
    let Ok(length) = rustix::fs::listxattr(real, list.as_mut_slice()) else {
        return Vec::new();
    };
    list[..length].split(|byte| *byte == 0).filter(|name| !name.is_empty()).map(<[u8]>::to_vec).collect()
}

fn copy_one(real: &Path, name: &[u8], new: &File) -> rustix::io::Result<()> {
    let mut value = vec![0; LONGEST];
    let length = rustix::fs::getxattr(real, name, value.as_mut_slice())?;
    rustix::fs::fsetxattr(new, name, &value[..length], rustix::fs::XattrFlags::empty())
}
