//! Writes a file so that a reader sees the old one or the new one, whole.

use std::fs::{self, File, OpenOptions};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

/// Writes `text` to `path` as [`save_with`] does.
///
/// # Errors
/// What the file system says; the old file is then untouched.
pub fn save(path: &Path, text: &str) -> io::Result<()> {
    save_with(path, |to| to.write_all(text.as_bytes()))
}

/// Writes to `path`: beside it first, then in its place. Permissions of the
/// file that was there are kept, and a link keeps pointing where it did.
///
/// # Errors
/// Those of `write`, and what the file system says; the old file is then
/// untouched.
pub fn save_with(
    path: &Path,
    write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> io::Result<()> {
    let target = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let beside = beside(&target)?;
    let outcome = fill(&beside, &target, write).and_then(|()| fs::rename(&beside, &target));
    if outcome.is_err() {
        // The first error tells more than one about cleaning up.
        let _ = fs::remove_file(&beside);
    }
    outcome
}

/// A name in the same folder, so that renaming moves no data.
fn beside(target: &Path) -> io::Result<PathBuf> {
    let name = target
        .file_name()
        .ok_or_else(|| io::Error::from(io::ErrorKind::InvalidInput))?;
    let name = format!(".{}.{}.part", name.to_string_lossy(), std::process::id());
    Ok(target.with_file_name(name))
}

fn fill(
    beside: &Path,
    target: &Path,
    write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> io::Result<()> {
    let file: File = OpenOptions::new()
        .write(true)
        .create(true)
        .truncate(true)
        .open(beside)?;
    if let Ok(old) = fs::metadata(target) {
        file.set_permissions(old.permissions())?;
    }
    let mut file = BufWriter::new(file);
    write(&mut file)?;
    file.flush()?;
    file.get_ref().sync_all()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_replaced_whole_and_nothing_is_left_beside() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("box.json");
        save(&path, "one").unwrap();
        save(&path, "two").unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "two");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_folder_is_not_replaced() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("inner");
        fs::create_dir(&path).unwrap();
        assert!(save(&path, "one").is_err());
        assert!(path.is_dir());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[cfg(unix)]
    #[test]
    fn permissions_and_links_stay() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("box.json");
        let link = folder.path().join("link.json");
        save(&path, "one").unwrap();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
        symlink(&path, &link).unwrap();
        save(&link, "two").unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "two");
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        let mode = fs::metadata(&path).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o640);
    }
}
