//! Files written whole or not at all.

use std::fs;
use std::path::Path;
use tempfile::TempDir;
use twinstrake::out::{finish, write_all, write_whole};

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

/// A job folder in whose `out/` a set of three files was being written when the power failed: all were ready, the first had its name.
fn cut_short() -> TempDir {
    let job = TempDir::new().unwrap();
    let out = job.path().join("out");
    fs::create_dir(&out).unwrap();
    write_all(
        &out,
        &[
            ("a", b"old".into()),
            ("b", b"old".into()),
            ("c", b"old".into()),
        ],
    )
    .unwrap();
    let ready = out.join(".twinstrake-ready");
    fs::create_dir(&ready).unwrap();
    fs::write(out.join("a"), "new").unwrap();
    fs::write(ready.join("b"), "new").unwrap();
    fs::write(ready.join("c"), "new").unwrap();
    job
}

#[test]
fn a_set_that_was_cut_short_between_two_names_is_brought_to_its_end() {
    let job = cut_short();
    finish(job.path()).unwrap();
    for name in ["a", "b", "c"] {
        let path = job.path().join("out").join(name);
        assert_eq!(fs::read(path).unwrap(), b"new", "{name}");
    }
    assert_eq!(names(&job.path().join("out")), ["a", "b", "c"]);
    // And once more: there is nothing left to do.
    finish(job.path()).unwrap();
}

#[test]
fn the_next_set_comes_after_the_one_that_was_cut_short() {
    let job = cut_short();
    let out = job.path().join("out");
    write_all(&out, &[("a", b"newest".into()), ("b", b"newest".into())]).unwrap();
    let read = |name| fs::read_to_string(out.join(name)).unwrap();
    assert_eq!(
        [read("a"), read("b"), read("c")],
        ["newest", "newest", "new"]
    );
    assert_eq!(names(&out), ["a", "b", "c"]);
}

#[test]
fn what_a_killed_writer_left_behind_goes_with_the_next() {
    let folder = TempDir::new().unwrap();
    let path = |name: &str| folder.path().join(name);
    fs::write(path(".twinstrake-Xy12.tmp"), "half").unwrap();
    fs::create_dir(path(".twinstrake-new.tmp")).unwrap();
    fs::write(path(".twinstrake-new.tmp").join("a"), "half").unwrap();
    fs::write(path(".other.tmp"), "not ours").unwrap();
    write_all(folder.path(), &[("a", b"new".into()), ("b", b"new".into())]).unwrap();
    assert_eq!(names(folder.path()), [".other.tmp", "a", "b"]);
    fs::write(path(".twinstrake-Xy13.tmp"), "half").unwrap();
    write_whole(&path("a"), b"newer").unwrap();
    assert_eq!(names(folder.path()), [".other.tmp", "a", "b"]);
}
