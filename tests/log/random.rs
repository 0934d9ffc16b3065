//! Random logs: what is written reads back the same, replaying gives the same, and undoing is exact.

use super::{Folder, again, again_quickly, laid, tell, wanted};
use proptest::prelude::*;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use twinstrake::job::{self, Reading};
use twinstrake::log::{Book, Cut, Entry, Event, Facts, Measured, Script, Spot, replay};
use twinstrake::plan::Plan;
use twinstrake::stock::Defect;
use twinstrake::units::{Colour, Length, U};

fn an_event(reading: &Reading, plan: &Plan, entries: &[Entry], rng: &mut Pcg64) -> Event {
    let strips = &reading.inventory.strips;
    let strip = &strips[rng.random_range(0..strips.len())];
    let name = strip.name.clone();
    let place = |rng: &mut Pcg64| U::at(Length::from_nm(rng.random_range(0..=strip.length.nm())));
    let (one, other) = (place(rng), place(rng));
    let at = Defect {
        from: one.min(other),
        to: one.max(other),
    };
    let piece = &plan.pieces[rng.random_range(0..plan.pieces.len())];
    match rng.random_range(0..11) {
        0..=2 => Event::Laid {
            spot: Spot::of(piece),
            facts: Some(Facts::of(piece, &reading.inventory)),
        },
        3 => Event::TakenUp {
            spot: Spot::of(piece),
            spoiled: rng.random_bool(0.5).then_some(Defect {
                from: piece.cut_from,
                to: piece.cut_to,
            }),
        },
        4 => Event::Broken { strip: name, at },
        5 => Event::Lost { strip: name },
        6 => Event::Found {
            strip: if rng.random_bool(0.5) {
                name
            } else {
                format!("X{}", rng.random_range(0..4))
            },
            measured: rng.random_bool(0.5).then(|| Measured {
                length: Length::from_nm(rng.random_range(1..5_000_000_000)),
                colour: Colour::lab(
                    rng.random_range(20.0..90.0),
                    rng.random_range(-5.0..20.0),
                    7.0,
                ),
                origin: rng
                    .random_bool(0.5)
                    .then(|| ("a board, \"odd\"".to_owned(), rng.random_range(1..9))),
            }),
        },
        7 => Event::Shade {
            strip: name,
            colour: Colour::shade(rng.random_range(1..=9)),
        },
        8 => Event::Cut(Cut {
            strip: name,
            from: None,
            to: Some(at.from),
            spot: None,
        }),
        9 => {
            let strip = &reading.inventory.strip(piece.strip);
            let inside = |at: U| (U::ORIGIN < at && at < U::at(strip.length)).then_some(at);
            match (inside(piece.cut_from), inside(piece.cut_to)) {
                (None, None) => Event::Lost { strip: name },
                (from, to) => Event::Cut(Cut {
                    strip: strip.name.clone(),
                    from,
                    to,
                    spot: Some(Spot::of(piece)),
                }),
            }
        }
        _ => Event::Undone {
            entry: rng.random_range(1..=entries.len().max(1)),
        },
    }
}

/// A random log that contradicts nothing.
fn a_log(reading: &Reading, plan: &Plan, rng: &mut Pcg64) -> Vec<Entry> {
    let notes = [
        "",
        "dropped it",
        "with, comma; and \"quotes\"",
        "1/2\" left",
    ];
    let mut entries: Vec<Entry> = Vec::new();
    for _ in 0..rng.random_range(1..40) {
        let event = an_event(reading, plan, &entries, rng);
        entries.push(Entry {
            time: "2026-05-02 10:12:40".into(),
            event,
            plan: rng.random_bool(0.5).then(|| rng.random_range(1..5)),
            note: notes[rng.random_range(0..notes.len())].into(),
            key: ["", "aB3-_x"][rng.random_range(0..2)].into(),
        });
        if replay(&reading.job.hull, &reading.inventory, &entries).is_err() {
            entries.pop();
        }
    }
    entries
}

fn read(folder: &Folder) -> Reading {
    job::read(folder.path()).unwrap()
}

#[test]
fn what_is_written_reads_back_the_same_and_undoing_all_gives_what_was_before() {
    let folder = laid();
    let bare = read(&folder);
    let plan = job::read_plan(folder.path(), &bare.job).unwrap();
    let cases = ProptestConfig {
        cases: 48,
        failure_persistence: None,
        ..ProptestConfig::default()
    };
    proptest!(cases, |(seed in any::<u64>())| {
        let mut rng = Pcg64::seed_from_u64(seed);
        let mut entries = a_log(&bare, &plan, &mut rng);
        prop_assume!(!entries.is_empty());
        let _ = std::fs::remove_file(folder.path().join("log.csv"));
        let script = Script { hull: &bare.job.hull, unit: bare.job.unit };
        // Written in two goes, as it happens.
        let half = entries.len() / 2;
        let mut book = Book::open(folder.path()).unwrap();
        book.add(&script, &entries[..half], 0).unwrap();
        drop(book);
        Book::open(folder.path()).unwrap().add(&script, &entries, half).unwrap();

        let saw = bare.job.rules.allow.saw;
        let reading = read(&folder);
        let log = reading.log.as_ref().unwrap();
        prop_assert_eq!(&log.entries, &entries);
        let standing = replay(&bare.job.hull, &bare.inventory, &entries).unwrap();
        prop_assert_eq!(&log.standing, &standing);
        let (stock, laid) = standing.wood_and_laid(saw);
        prop_assert_eq!((&reading.job.stock, &reading.job.laid), (&stock, &laid));

        // From the last to the first, each undone: after every one, all is as it was just before that entry.
        for number in (1..=entries.len()).rev() {
            let before = replay(&bare.job.hull, &bare.inventory, &entries[..number - 1]).unwrap();
            let undone = Entry { event: Event::Undone { entry: number }, ..entries[0].clone() };
            let held = twinstrake::log::live(&entries)[number - 1];
            if held {
                entries.push(undone);
            }
            let now = replay(&bare.job.hull, &bare.inventory, &entries);
            if let Ok(now) = now {
                prop_assert_eq!(now.wood_and_laid(saw), before.wood_and_laid(saw));
            } else if held {
                prop_assert!(false, "entry {} can't be undone", number);
            }
        }
    });
}

/// Histories that are planned again; more where `TWINSTRAKE_MANY` says so.
fn cases() -> u32 {
    let many = std::env::var("TWINSTRAKE_MANY").ok();
    many.and_then(|many| many.parse().ok()).unwrap_or(16)
}

#[test]
fn whatever_happened_once_all_of_it_is_undone_the_plan_is_to_the_letter_what_it_was() {
    let cases = ProptestConfig {
        cases: cases(),
        failure_persistence: None,
        ..ProptestConfig::default()
    };
    proptest!(cases, |(seed in any::<u64>())| {
        let folder = if seed.is_multiple_of(2) { laid() } else { wanted() };
        tell(&folder, "laid 1 port").ended(0);
        let bare = read(&folder);
        let first = folder.read("out/laying-order.csv");
        let plan = job::read_plan(folder.path(), &bare.job).unwrap();
        let script = Script { hull: &bare.job.hull, unit: bare.job.unit };
        let append = |entries: &[Entry], known: usize| {
            Book::open(folder.path()).unwrap().add(&script, entries, known).unwrap();
        };
        let mut entries = bare.log.as_ref().unwrap().entries.clone();
        let known = entries.len();
        let mut rng = Pcg64::seed_from_u64(seed);
        for _ in 0..rng.random_range(1..12) {
            let event = an_event(&bare, &plan, &entries, &mut rng);
            entries.push(Entry { event, ..entries[0].clone() });
            if replay(&bare.job.hull, &bare.inventory, &entries).is_err() {
                entries.pop();
            }
        }
        if entries.len() == known {
            return Ok(());
        }
        append(&entries, known);
        // Where the wood does not cover the boat any more, a plan is written all the same.
        let ran = again_quickly(&folder);
        prop_assert!(matches!(ran.status, Some(0 | 1)), "seed {seed}: {}", ran.stderr);
        let checked = folder.run("check", &[]);
        prop_assert_eq!(checked.status, ran.status, "seed {}: {}", seed, checked.stdout);

        let now = twinstrake::out::number_in_force(folder.path());
        let told = entries.len();
        for number in (known + 1..=told).rev() {
            if twinstrake::log::live(&entries)[number - 1] {
                let event = Event::Undone { entry: number };
                entries.push(Entry { event, plan: now, ..entries[0].clone() });
            }
        }
        append(&entries, told);
        again(&folder).ended(0);
        prop_assert_eq!(folder.read("out/laying-order.csv"), first, "seed {}", seed);
        folder.run("check", &[]).ended(0);
    });
}
