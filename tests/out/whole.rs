//! Files written whole or not at all.

use crate::common::Says;
use std::fs;
use std::path::Path;
use tempfile::TempDir;
use twinstrake::disk::read;
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
    told.says("the folder is not there any more");
}

/// No user, not even root, may make a file in /proc.
#[cfg(target_os = "linux")]
#[test]
fn a_folder_that_takes_no_files_is_told_of() {
    let told = write_whole(Path::new("/proc/plan.json"), b"new").unwrap_err();
    told.to_string()
        .begins("/proc/plan.json can't be written: ");
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

/// The SHA-256 of "new". Source: sha256sum of GNU coreutils 9.1.
const OF_NEW: &str = "11507a0e2f5e69d5dfa40a62a1bd7b6ee57e6bcd85c67c9b8431b36fff21c437";

/// Writes the list that belongs into a folder of new files.
fn list(ready: &Path, names: &[&str]) {
    let lines: String = names
        .iter()
        .map(|name| format!("{OF_NEW}  {name}\n"))
        .collect();
    fs::write(ready.join("files.sha256"), lines).unwrap();
}

/// A job folder in whose `out/` a set of three files was being written when the power failed: all were ready, the
/// first had its name.
fn cut_short() -> TempDir {
    let job = TempDir::new().unwrap();
    let out = job.path().join("out");
    fs::create_dir(&out).unwrap();
    write_all(
        &out,
        &[
            ("a.csv", b"old".into()),
            ("b.csv", b"old".into()),
            ("c.csv", b"old".into()),
        ],
    )
    .unwrap();
    let ready = out.join(".twinstrake-ready");
    fs::create_dir(&ready).unwrap();
    fs::write(out.join("a.csv"), "new").unwrap();
    fs::write(ready.join("b.csv"), "new").unwrap();
    fs::write(ready.join("c.csv"), "new").unwrap();
    list(&ready, &["a.csv", "b.csv", "c.csv"]);
    job
}

#[test]
fn a_set_that_was_cut_short_between_two_names_is_brought_to_its_end() {
    let job = cut_short();
    finish(job.path()).unwrap();
    for name in ["a.csv", "b.csv", "c.csv"] {
        let path = job.path().join("out").join(name);
        assert_eq!(fs::read(path).unwrap(), b"new", "{name}");
    }
    assert_eq!(names(&job.path().join("out")), ["a.csv", "b.csv", "c.csv"]);
    // And once more: there is nothing left to do.
    finish(job.path()).unwrap();
}

#[test]
fn the_next_set_comes_after_the_one_that_was_cut_short() {
    let job = cut_short();
    let out = job.path().join("out");
    write_all(
        &out,
        &[("a.csv", b"newest".into()), ("b.csv", b"newest".into())],
    )
    .unwrap();
    let read = |name| fs::read_to_string(out.join(name)).unwrap();
    assert_eq!(
        [read("a.csv"), read("b.csv"), read("c.csv")],
        ["newest", "newest", "new"]
    );
    assert_eq!(names(&out), ["a.csv", "b.csv", "c.csv"]);
}

/// A reader writes nothing, and goes by the new files all the same.
#[test]
fn who_only_reads_a_set_that_was_cut_short_finds_all_files_new_and_leaves_them_where_they_are() {
    let job = cut_short();
    let out = job.path().join("out");
    let before = names(&out);
    for name in ["a.csv", "b.csv", "c.csv"] {
        assert_eq!(read(&out.join(name)).unwrap(), b"new", "{name}");
    }
    assert_eq!(names(&out), before);
    assert_eq!(fs::read(out.join("b.csv")).unwrap(), b"old");
}

/// What has the name of a set that waits, and is none, each in its own way: nothing of it is taken up, and nothing is
/// lost.
#[test]
fn a_folder_that_was_planted_under_our_name_is_not_taken_up() {
    type Plant = fn(&Path);
    let plant: [(&str, Plant); 4] = [
        ("no list", |ready| {
            fs::remove_file(ready.join("files.sha256")).unwrap()
        }),
        ("another file", |ready| {
            fs::write(ready.join("d.csv"), "new").unwrap()
        }),
        ("other bytes", |ready| {
            fs::write(ready.join("b.csv"), "other").unwrap()
        }),
        ("a folder", |ready| fs::create_dir(ready.join("d")).unwrap()),
    ];
    // The bytes are those of the list, but they lie elsewhere.
    #[cfg(unix)]
    let plant = plant.into_iter().chain([
        (
            "a link in it",
            (|ready: &Path| replaced_by_link(&ready.join("b.csv"))) as Plant,
        ),
        ("a link to it", replaced_by_link as Plant),
    ]);
    for (what, plant) in plant {
        let job = cut_short();
        let out = job.path().join("out");
        let ready = out.join(".twinstrake-ready");
        plant(&ready);
        let before = names(&ready);
        let told = write_all(&out, &[("a.csv", b"newest".into())]).unwrap_err();
        assert!(
            told.to_string().contains("was not made by twinstrake"),
            "{what}: {told}"
        );
        finish(job.path()).unwrap_err();
        assert_eq!(names(&ready), before, "{what}");
        assert_eq!(read(&out.join("b.csv")).unwrap(), b"old", "{what}");
    }
}

/// What has a path goes to another folder, and a link to it comes in its place.
#[cfg(unix)]
fn replaced_by_link(path: &Path) {
    let elsewhere = path.ancestors().nth(2).unwrap().join("elsewhere");
    fs::rename(path, &elsewhere).unwrap();
    std::os::unix::fs::symlink(&elsewhere, path).unwrap();
}

#[test]
fn a_name_that_this_program_gives_no_file_is_not_taken_up_from_a_list() {
    for name in [".profile", "A.csv", "a.sh", "a"] {
        let job = TempDir::new().unwrap();
        let ready = job.path().join("out/.twinstrake-ready");
        fs::create_dir_all(&ready).unwrap();
        fs::write(ready.join(name), "new").unwrap();
        list(&ready, &[name]);
        finish(job.path()).unwrap_err();
        assert!(!job.path().join("out").join(name).exists(), "{name}");
    }
}

#[test]
fn what_a_killed_writer_left_behind_goes_with_the_next() {
    let folder = TempDir::new().unwrap();
    let path = |name: &str| folder.path().join(name);
    fs::write(path(".twinstrake-Xy12.tmp"), "half").unwrap();
    fs::create_dir(path(".twinstrake-new.tmp")).unwrap();
    fs::write(path(".twinstrake-new.tmp").join("a"), "half").unwrap();
    fs::write(path(".other.tmp"), "not ours").unwrap();
    write_all(
        folder.path(),
        &[("a.csv", b"new".into()), ("b.csv", b"new".into())],
    )
    .unwrap();
    assert_eq!(names(folder.path()), [".other.tmp", "a.csv", "b.csv"]);
    fs::write(path(".twinstrake-Xy13.tmp"), "half").unwrap();
    write_whole(&path("a.csv"), b"newer").unwrap();
    assert_eq!(names(folder.path()), [".other.tmp", "a.csv", "b.csv"]);
}
