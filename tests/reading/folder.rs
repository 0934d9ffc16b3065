//! A job folder on disk, made from one good job by small changes.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use tempfile::TempDir;
use twinstrake::job::{self, Complaint, Job, Reading};

pub const BOAT: &str = r#"name = "Skiff"
units = "mm"

[strip]
width = 19
thickness = 6
edges = "square"

[joint]
slope = 8
clear = 300
clear_courses = 2
shortest_piece = 600
most = 2

[allow]
fitted_end = 25
free_end = 50
saw = 3

[cost]
board = 2.5

[[panel]]
name = "side"
toward = "keel"

[[panel]]
name = "deck"
toward = "deck"
look = 0.5
lay = "port-first"

[[keep_clear]]
panel = "side"
courses = [1, 2]
from = 1500
to = 2000

[[show]]
panel = "side"
from = 0
to = 3000
times = 2.0
"#;

pub const COURSES: &str = "\
panel,course,kind,from,to,length,bow_end,stern_end
side,1,mirrored,0,4000,4100,fitted,free
side,2,,50,3950,,,
side,3,mirrored,100,3900,3850,free,fitted
deck,1,mirrored,200,3800,3600,fitted,fitted
deck,2,centre,150,3850,3700,fitted,fitted
";

pub const STRIPS: &str = "\
strip,board,seq,length,width,thickness,colour,grain,sister,defects,notes
A1,A,1,4300,19,6,70 8 24,straight,,,
A2,A,2,4310,,,70.5 8 24,straight,,1200-1260; 2210,knot
A3,A,3,4305,,,71 8.1 24.2,straight,A4,,
A10,A,5,4305,,,#c4936a,straight,,,
A4,A,4,4300,,,#c4936a,straight,A3,,
B1,B,1,3.9 m,,,5,wavy,,,
B2,B,2,12' 9 1/2\",,,5,wavy,,,
S,,,2000,,,9,,,,stray
";

/// The files of a job, not yet written.
#[derive(Clone)]
pub struct Folder {
    files: BTreeMap<&'static str, Vec<u8>>,
}

impl Folder {
    /// A job that reads without a complaint or a warning.
    pub fn good() -> Folder {
        Folder {
            files: BTreeMap::from([
                ("boat.toml", BOAT.into()),
                ("courses.csv", COURSES.into()),
                ("strips.csv", STRIPS.into()),
            ]),
        }
    }

    /// The same with a file put in or replaced.
    pub fn with(mut self, file: &'static str, bytes: impl Into<Vec<u8>>) -> Folder {
        self.files.insert(file, bytes.into());
        self
    }

    /// The same without a file.
    pub fn without(mut self, file: &str) -> Folder {
        self.files.remove(file);
        self
    }

    /// The same with a text replaced in a file; the text must be there exactly once.
    pub fn change(mut self, file: &'static str, old: &str, new: &str) -> Folder {
        let text = String::from_utf8(self.files[file].clone()).unwrap();
        assert_eq!(text.matches(old).count(), 1, "{old:?} in {file}");
        self.files.insert(file, text.replace(old, new).into());
        self
    }

    /// Writes the files into a fresh folder and gives it to `use_it`.
    pub fn on_disk<T>(&self, use_it: impl FnOnce(&Path) -> T) -> T {
        let dir = TempDir::new().unwrap();
        for (file, bytes) in &self.files {
            let path = dir.path().join(file);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, bytes).unwrap();
        }
        use_it(dir.path())
    }

    pub fn read(&self) -> Result<Reading, Vec<Complaint>> {
        self.on_disk(job::read)
    }

    pub fn job(&self) -> Job {
        self.reading().job
    }

    pub fn reading(&self) -> Reading {
        self.read().unwrap_or_else(|all| panic!("{}", lines(&all)))
    }

    pub fn complaints(&self) -> Vec<Complaint> {
        match self.read() {
            Ok(_) => panic!("read without a complaint"),
            Err(all) => all,
        }
    }

    /// The one complaint there is, as it is printed.
    pub fn complaint(&self) -> String {
        only(&self.complaints())
    }

    /// The one warning there is, as it is printed.
    pub fn warning(&self) -> String {
        only(&self.reading().warnings)
    }
}

pub fn only(all: &[Complaint]) -> String {
    assert_eq!(all.len(), 1, "\n{}", lines(all));
    all[0].to_string()
}

pub fn lines(all: &[Complaint]) -> String {
    let lines: Vec<String> = all.iter().map(Complaint::to_string).collect();
    lines.join("\n")
}

/// Cases written as a text: on a line what is changed, `old => new`, and set in below it what is told then.
pub fn cases(text: &str) -> Vec<(&str, &str, String)> {
    let mut all: Vec<(&str, &str, String)> = Vec::new();
    for line in text.lines().map(str::trim) {
        match (line.split_once("=>"), all.last_mut()) {
            (Some((old, new)), _) => all.push((old.trim(), new.trim(), String::new())),
            (None, Some((.., told))) if told.is_empty() => told.push_str(line),
            (None, Some((.., told))) if !line.is_empty() => *told += &format!(" {line}"),
            _ => {}
        }
    }
    all
}
