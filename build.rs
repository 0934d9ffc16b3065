//! Looks which programs are there that the tests read printed pages and the report with. A test that misses one is
//! then ignored, and says so; where `CI` is `true` it is run all the same, and fails.

use std::env;
use std::path::Path;

/// Under which name tests ask for it, the programs, and the Debian package that has them.
const READERS: [(&str, &[&str], &str); 3] = [
    (
        "no_poppler",
        &["pdftotext", "pdftoppm", "pdfinfo", "pdffonts"],
        "poppler-utils",
    ),
    ("no_zbar", &["zbarimg"], "zbar-tools"),
    ("no_chromium", &["chromium"], "chromium"),
];

fn main() {
    println!("cargo:rerun-if-changed=build.rs");
    println!("cargo:rerun-if-env-changed=PATH");
    println!("cargo:rerun-if-env-changed=CI");
    let path = env::var_os("PATH").unwrap_or_default();
    let is_there = |program: &&str| {
        env::split_paths(&path).any(|folder: std::path::PathBuf| is_file(&folder, program))
    };
    let must_be = env::var("CI").is_ok_and(|ci| ci == "true");
    let mut missing = Vec::new();
    for (name, programs, package) in READERS {
        println!("cargo:rustc-check-cfg=cfg({name})");
        if !must_be && !programs.iter().all(is_there) {
            println!("cargo:rustc-cfg={name}");
            missing.push(package);
        }
    }
    println!("cargo:rustc-env=MISSING_PACKAGES={}", missing.join(" "));
}

fn is_file(folder: &Path, program: &str) -> bool {
    folder.join(program).is_file()
}
