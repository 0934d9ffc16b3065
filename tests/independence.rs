//! The checker and the search share no code: a mistake in the one must not hide a mistake in the other.
#![allow(clippy::unwrap_used)]

use std::fs;
use std::path::{Path, PathBuf};

fn files(of: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(of).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files(&path));
        } else if path.extension().is_some_and(|end| end == "rs") {
            found.push(path);
        }
    }
    found
}

/// The code of each file of a module, without comments.
fn sources(module: &str) -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let files = files(&root.join(module));
    assert!(!files.is_empty());
    let code = files.iter().map(|file| {
        let text = fs::read_to_string(file).unwrap();
        let code: Vec<&str> = text
            .lines()
            .map(|line| line.split("//").next().unwrap())
            .collect();
        (file.display().to_string(), code.join("\n"))
    });
    code.collect()
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_alphanumeric() && c != '_')
}

/// The files of a module that name another module: in a path, or anywhere in a `use`.
fn files_naming(module: &str, other: &str) -> Vec<String> {
    let names = |code: &str| {
        let in_a_path = code
            .match_indices("::")
            .any(|(at, _)| words(&code[..at]).last() == Some(other));
        let in_a_use = code.split(';').any(|statement| {
            let statement = statement.trim_start().trim_start_matches("pub ");
            statement.starts_with("use ") && words(statement).any(|word| word == other)
        });
        in_a_path || in_a_use
    };
    let naming = sources(module).into_iter().filter(|(_, code)| names(code));
    naming.map(|(file, _)| file).collect()
}

/// The tests are a few programs of many files: one that no program names would never run, and nobody would notice.
#[test]
fn every_file_of_tests_is_part_of_a_test_program() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let tests = root.join("tests");
    let all = files(&tests);
    let text_in = |folder: &Path| -> String {
        let here = all.iter().filter(|file| file.starts_with(folder));
        here.map(|file| fs::read_to_string(file).unwrap()).collect()
    };
    let programs = fs::read_to_string(root.join("Cargo.toml")).unwrap();
    let name = |path: &Path| path.file_stem().unwrap().to_str().unwrap().to_owned();
    for file in &all {
        let folder = file.parent().unwrap();
        let named = match name(file).as_str() {
            "main" => format!("{programs}{}", text_in(&tests))
                .contains(&format!("{}/main.rs\"", name(folder))),
            "mod" => text_in(folder.parent().unwrap()).contains(&format!("mod {};", name(folder))),
            stem => {
                text_in(folder).contains(&format!("mod {stem};"))
                    || programs.contains(&format!("\"tests/{stem}.rs\""))
            }
        };
        assert!(named, "{} is in no test program", file.display());
    }
}

#[test]
fn the_checker_never_names_the_search() {
    assert_eq!(files_naming("check", "solve"), Vec::<String>::new());
}

#[test]
fn the_search_never_names_the_checker() {
    assert_eq!(files_naming("solve", "check"), Vec::<String>::new());
}

/// The courses are where planner and checker both start: whoever works them out knows neither.
#[test]
fn the_lines_of_the_boat_are_worked_out_from_plain_data_alone() {
    for (file, code) in sources("lines") {
        for after in code.split("crate::").skip(1) {
            let named = words(after).next().unwrap();
            let plain = ["units", "hull", "plan", "lines"];
            assert!(plain.contains(&named), "{file} names {named}");
        }
    }
}

#[test]
fn the_checker_sees_the_plain_data_and_no_file() {
    assert_eq!(files_naming("check", "fs"), Vec::<String>::new());
    assert_eq!(files_naming("check", "io"), Vec::<String>::new());
    let plain = ["units", "stock", "hull", "plan", "job", "check"];
    for (file, code) in sources("check") {
        for after in code.split("crate::").skip(1) {
            let named = words(after).next().unwrap();
            assert!(plain.contains(&named), "{file} names {named}");
        }
    }
}

#[test]
fn what_plans_again_sees_no_file_and_no_screen() {
    for module in ["why", "choices"] {
        for other in ["fs", "io", "out", "cli", "draw"] {
            assert_eq!(files_naming(module, other), Vec::<String>::new());
        }
    }
}
