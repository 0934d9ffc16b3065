//! What can be wrong with the wants of boat.toml, and with shade.

use crate::folder::{Folder, cases, lines};
use crate::says::Says;
use twinstrake::hull::{Drift, PanelId, Shade};
use twinstrake::plan::Want;

/// The good job with kinds of wood, and wants under its panels.
fn folder(wants: &str) -> Folder {
    let strips = crate::folder::STRIPS.replace(",grain,", ",wood,");
    Folder::good()
        .with(
            "strips.csv",
            strips
                .replace("straight", "Spruce")
                .replace("wavy", "walnut"),
        )
        .change(
            "boat.toml",
            "[[keep_clear]]",
            &format!("{wants}\n[[keep_clear]]"),
        )
}

fn want(keys: &str) -> Folder {
    folder(&format!("[[want]]\nname = \"line\"\n{keys}\n"))
}

#[test]
fn a_want_reads_as_it_is_written() {
    let job = want("panel = \"side\"\ncourse = 2\nwood = \"Walnut\"\naccent = 12").job();
    let line = Want {
        name: "line".into(),
        panel: PanelId(0),
        courses: Some((2, 2)),
        wood: Some("Walnut".into()),
        boards: vec![],
        strips: vec![],
        keep: true,
        accent: Some(12.0),
        port: None,
    };
    assert_eq!(job.wants, std::slice::from_ref(&line));
    let named: Vec<&str> = (0..job.stock.strips.len())
        .filter(|i| line.names(&job.stock, twinstrake::stock::StripId(*i)))
        .map(|i| job.stock.strips[i].name.as_str())
        .collect();
    assert_eq!(named, ["B1", "B2"], "capitals play no part");
    let job = want("panel = \"side\"\ncourses = [1, 2]\nboards = \"A\"\nport = \"A1\"").complaint();
    job.says("is not one of the strips of this want");
    let job = want("panel = \"deck\"\nboards = [\"A\"]\nkeep = true").job();
    assert_eq!((job.wants[0].courses, job.wants[0].keep), (None, true));
    let pair = want("panel = \"side\"\ncourse = 1\nstrips = [\"A3\", \"A4\"]\nport = \"A4\"").job();
    assert!(
        pair.wants[0].keep,
        "strips that are named are kept unless it says otherwise"
    );
    assert_eq!(pair.wants[0].port.as_deref(), Some("A4"));
}

#[test]
fn a_shade_reads_as_it_is_written() {
    let side = |keys: &str| {
        Folder::good().change(
            "boat.toml",
            "toward = \"keel\"",
            &format!("toward = \"keel\"\n{keys}"),
        )
    };
    let drift = side("shade = \"darker\"\nagainst = 2.5").job().hull.panels[0].drift;
    let darker = Drift {
        shade: Shade::Darker,
        against: 2.5,
    };
    assert_eq!(drift, Some(darker));
    assert_eq!(
        side("shade = \"lighter\"").job().hull.panels[0]
            .drift
            .map(|d| d.against),
        Some(1.0)
    );
    assert_eq!(Folder::good().job().hull.panels[0].drift, None);
    side("shade = \"drker\"").complaint()
        .is("boat.toml, line 27, panel.shade: \"drker\" is not a word that shade can be. Did you mean \"darker\"?");
    side("against = 2").warning().is(
        "boat.toml, line 27, panel.against: \"2\" is passed over, as the panel says no shade. Write shade = \"darker\" or \
         shade = \"lighter\", or leave against out.",
    );
}

/// What each way of asking for what can't be had is told, under the line where it stands.
#[test]
fn a_want_that_cant_be_met_is_refused_with_its_place_and_its_mend() {
    let all = cases(
        r#"
        panel = "sode"; wood = "walnut" =>
            line 36, want.panel: "sode" is not a panel of boat.toml. Did you mean "side"?
        panel = "side"; course = 5; wood = "walnut" =>
            line 37, want.course: "5" names course 5 of panel "side", which has 1 to 3. Write courses
            that are there, or leave courses out for the whole panel.
        panel = "side"; courses = [3, 4]; wood = "walnut" =>
            line 37, want.courses: "[3, 4]" names course 4 of panel "side", which has 1 to 3. Write
            courses that are there, or leave courses out for the whole panel.
        panel = "side"; wood = "wallnut" =>
            line 37, want.wood: "wallnut" is the wood of no strip in the rack. Did you mean "walnut"?
        panel = "side"; boards = ["A", "N"] =>
            line 37, want.boards: "N" is not a board of the rack. Write it as strips.csv or boards.csv
            has it.
        panel = "side"; strips = ["A3", "A44"] =>
            line 37, want.strips: "A44" is not a strip of the rack. Did you mean "A4"?
        panel = "side"; course = 1; strips = ["A3", "A4"]; port = "A1" =>
            line 39, want.port: "A1" is not one of the strips of this want. Did you mean "A3"?
        panel = "side"; strips = ["A3", "A4"]; port = "A3" =>
            line 38, want.port: "A3" can be told only where a want names two strips and one course.
            Write course = 3 and strips = ["D3", "D4"], or leave port out.
        panel = "deck"; course = 2; strips = ["A3", "A4"]; port = "A3" =>
            line 39, want.port: "A3" names a side of a course on the centreline, which has none. Leave
            port out.
        panel = "side"; course = 1; strips = ["A3"] =>
            line 38, want.strips: "["A3"]" names one strip, but side course 1 is laid to port and to
            starboard. Name two strips at least, best two sisters.
        panel = "side" =>
            line 34, want.wood: the want names no wood. Write wood = "walnut", boards = ["N"] or strips
            = ["D3", "D4"].
        panel = "side"; course = 1; courses = [1, 2]; wood = "walnut" =>
            line 37, want.course: "1" stands beside courses, and only one of the two can count. Leave
            course out, or courses.
        panel = "side"; wood = "walnut"; accent = 0 =>
            line 38, want.accent: "0" is nothing. Write more than 0.
        panel = "side"; wood = "walnut"; keep = "yes" =>
            line 38, want.keep: "yes" is neither true nor false. Write keep = true or keep = false,
            without quotes.
        "#,
    );
    for (keys, _, told) in all {
        let told = format!("boat.toml, {told}");
        assert_eq!(want(&keys.replace("; ", "\n")).complaint(), told);
    }
}

#[test]
fn two_wants_that_exclude_each_other_are_refused() {
    let two = |one: &str, other: &str| {
        let text = format!(
            "[[want]]\nname = \"line\"\npanel = \"side\"\n{one}\n[[want]]\nname = \"best pair\"\npanel = \"side\"\n{other}\n"
        );
        folder(&text).complaint()
    };
    two(
        "courses = [1, 2]\nwood = \"walnut\"",
        "course = 2\nstrips = [\"A3\", \"A4\"]"
    ).is(
        "boat.toml, line 40, want.name: \"best pair\" and \"line\" exclude each other: side course 2 is left no strip that both \
         allow. Give each courses of its own, or name wood that both allow.",
    );
    two(
        "course = 1\nstrips = [\"B1\", \"B2\"]",
        "course = 2\nwood = \"walnut\""
    ).is(
        "boat.toml, line 40, want.name: \"best pair\" asks for wood on side course 2 that \"line\" keeps for itself. Write keep = \
         false in \"line\", or name other wood here.",
    );
}

#[test]
fn every_want_that_cant_be_met_is_told_at_once() {
    let all = folder(
        "[[want]]\nname = \"line\"\npanel = \"sode\"\nwood = \"walnut\"\n[[want]]\nname = \"line\"\npanel = \"side\"\ncourse = 9\nwood = \"teak\"\n",
    );
    assert_eq!(
        lines(&all.complaints()).lines().count(),
        4,
        "panel, name twice, course, wood: {}",
        lines(&all.complaints())
    );
}
