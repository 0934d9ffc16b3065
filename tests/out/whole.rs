//! Files written whole or not at all.

use std::fs;
use std::path::Path;
use tempfile::TempDir;
use twinstrake::out::{write_all, write_whole};

/// The names in a folder.
fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn a_file_takes_the_place_of_the_old_one_and_nothing_else_stays() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("plan.json");
    write_whole(&path, b"old, and longer").unwrap();
    write_whole(&path, b"new").unwrap();
    assert_eq!(fs::read(&path).unwrap(), b"new");
    assert_eq!(names(folder.path()), ["plan.json"]);
}

#[test]
fn a_folder_of_the_same_name_is_left_alone_and_told_of() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("plan.json");
    fs::create_dir(&path).unwrap();
    let told = write_whole(&path, b"new").unwrap_err().to_string();
    assert!(
        told.ends_with("plan.json can't be written: a folder of that name is there. Move it away, and try again."),
        "{told}"
    );
    assert_eq!(names(folder.path()), ["plan.json"]);
}

#[test]
fn of_several_files_none_gets_its_name_where_one_can_not_be_written() {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("one"), "old").unwrap();
    fs::create_dir(folder.path().join("two")).unwrap();
    let files = [("one", b"new".to_vec()), ("two", b"new".to_vec())];
    write_all(folder.path(), &files).unwrap_err();
    assert_eq!(fs::read(folder.path().join("one")).unwrap(), b"old");
    assert_eq!(names(folder.path()), ["one", "two"]);
}

#[test]
fn a_folder_that_is_gone_is_told_of() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("gone/plan.json");
    let told = write_whole(&path, b"new").unwrap_err().to_string();
    assert!(told.contains("the folder is not there any more"), "{told}");
}

/// No user, not even root, may make a file in /proc.
#[cfg(target_os = "linux")]
#[test]
fn a_folder_that_takes_no_files_is_told_of() {
    let told = write_whole(Path::new("/proc/plan.json"), b"new").unwrap_err();
    assert!(
        told.to_string()
            .starts_with("/proc/plan.json can't be written: "),
        "{told}"
    );
}

#[cfg(unix)]
#[test]
fn a_plan_may_be_read_by_whoever_may_read_other_new_files_there() {
    use std::os::unix::fs::PermissionsExt;
    let folder = TempDir::new().unwrap();
    let mode = |name: &str| {
        let there = fs::metadata(folder.path().join(name)).unwrap();
        there.permissions().mode() & 0o777
    };
    fs::write(folder.path().join("usual"), "").unwrap();
    write_whole(&folder.path().join("plan.json"), b"").unwrap();
    assert_eq!(mode("plan.json"), mode("usual"));
}
