//! Every file of a job that is under way, edited at random as a hand in an editor might: whatever comes of it, the
//! program plans, or says what is wrong. It never finds fault with itself (exit status 3).
//!
//! How often: `TWINSTRAKE_EDITS` (6 where it says nothing).

use super::{Folder, again_quickly, laid, tell};
use rand::seq::IndexedRandom;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

const FILES: [&str; 6] = [
    "boat.toml",
    "courses.csv",
    "strips.csv",
    "log.csv",
    "out/laying-order.csv",
    "out/plan.json",
];

/// Words that stand for each other in some file.
const WORDS: [[&str; 2]; 14] = [
    ["mirrored", "centre"],
    ["port", "starboard"],
    ["mark", "plain"],
    ["high", "low"],
    ["fitted", "free"],
    ["\"square\"", "\"bead-and-cove\"\nnext_edge = \"A\""],
    ["keel", "deck"],
    ["alternate", "port-first"],
    ["lost", "found"],
    ["laid", "cut"],
    ["cut", "taken up"],
    ["spoiled", "broken"],
    ["A1", "B2"],
    ["side", "bottom"],
];

/// The small boat with two courses laid in part, one piece cut and a strip lost, planned again since.
fn begun() -> Folder {
    let folder = laid();
    for words in ["laid 1 port", "cut 2 port", "lost C1", "spoiled D1 100-400"] {
        tell(&folder, words).ended(0);
    }
    again_quickly(&folder).ended(0);
    folder
}

/// The same with courses worked out from girths, of which a new one may make the courses more or fewer.
fn by_girths() -> Folder {
    let folder = begun();
    std::fs::remove_file(folder.path().join("courses.csv")).unwrap();
    std::fs::remove_file(folder.path().join("log.csv")).unwrap();
    folder.write(
        "forms.csv",
        "form,from_bow,side\n1,0,57\n2,1000,57\n3,3000,57\n",
    );
    folder.lay().ended(0);
    tell(&folder, "laid 1 port").ended(0);
    tell(&folder, "lost C1").ended(0);
    folder
}

/// A text with one thing in it changed.
fn edited(text: &str, rng: &mut Pcg64) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    if lines.is_empty() {
        return "x".into();
    }
    let at = rng.random_range(0..lines.len());
    let other = rng.random_range(0..lines.len());
    match rng.random_range(0..8) {
        0 => drop(lines.remove(at)),
        1 => lines.insert(at, lines[other].clone()),
        2 => lines.swap(at, other),
        3 => {
            let cells: Vec<&str> = lines[other].split(',').collect();
            let column = rng.random_range(0..cells.len());
            let new = cells[column].to_owned();
            let mut here: Vec<&str> = lines[at].split(',').collect();
            if let Some(cell) = here.get_mut(column) {
                *cell = &new;
            }
            lines[at] = here.join(",");
        }
        4 => {
            let [one, another] = WORDS.choose(rng).unwrap();
            let whole = lines.join("\n");
            let changed = match whole.contains(one) {
                true => whole.replacen(one, another, 1),
                false => whole.replacen(another, one, 1),
            };
            return changed + "\n";
        }
        _ => lines[at] = other_number(&lines[at], rng),
    }
    lines.join("\n") + "\n"
}

/// A line with one of its numbers another.
fn other_number(line: &str, rng: &mut Pcg64) -> String {
    let is_part = |c: char| c.is_ascii_digit() || c == '.';
    let starts: Vec<usize> = line
        .char_indices()
        .filter(|&(i, c)| c.is_ascii_digit() && !line[..i].ends_with(is_part))
        .map(|(i, _)| i)
        .collect();
    let Some(&start) = starts.choose(rng) else {
        return line.into();
    };
    let end = line[start..]
        .find(|c| !is_part(c))
        .map_or(line.len(), |long| start + long);
    let Ok(was) = line[start..end].parse::<f64>() else {
        return line.into();
    };
    let now = [
        was + 1.0,
        was - 1.0,
        0.0,
        2.0 * was,
        was / 2.0,
        was + 19.0,
        1e9,
    ][rng.random_range(0..7)];
    format!("{}{now}{}", &line[..start], &line[end..])
}

#[test]
fn whatever_is_edited_in_a_job_under_way_it_is_planned_or_told_what_is_wrong() {
    let many = std::env::var("TWINSTRAKE_EDITS").ok();
    let many: u64 = many.and_then(|many| many.parse().ok()).unwrap_or(6);
    let bases = [begun(), by_girths()];
    let mut ended = [0; 3];
    for seed in 0..many {
        let mut rng = Pcg64::seed_from_u64(seed);
        let folder = bases[(seed % 2) as usize].copy();
        let mut told = Vec::new();
        for _ in 0..rng.random_range(1..4) {
            let file = match FILES.choose(&mut rng).unwrap() {
                &"courses.csv" if seed % 2 == 1 => "forms.csv",
                file => file,
            };
            let now = edited(&folder.read(file), &mut rng);
            told.push(format!("{file}:\n{now}"));
            folder.write(file, &now);
        }
        let command: &[&str] = [
            &["check"][..],
            &["status"],
            &["spares", "--samples", "1"],
            &["labels", "--changed"],
            &["sheets"],
            &["why", "--rounds", "0"],
        ]
        .choose(&mut rng)
        .unwrap();
        for command in [command, &["lay", "--rounds", "0"], command] {
            let ran = folder.run(command[0], &command[1..]);
            let Some(status @ 0..=2) = ran.status else {
                panic!(
                    "seed {seed}, {command:?}: {:?}\n{}\n{}",
                    ran.status,
                    ran.stderr,
                    told.join("\n")
                );
            };
            ended[status as usize] += 1;
        }
    }
    println!("Exit status 0, 1 and 2: {ended:?} times");
    // Some edits are harmless, some are complained of.
    assert!(ended[0] > 0 && ended[2] > 0);
}
