//! A rack told by the board, from end to end.

use crate::folder::Folder;
use std::fs;

const BOARDS: &str = "\
board,slices,length,colour,defects
A,3,3100,4,2: 0-20
B,2,3100,6,3090
";

const STRIPS: &str = "\
strip,board,seq,length,colour,defects
A1,A,1,3100,4,
A2,A,2,3100,4,0-20
A3,A,3,3100,4,
B1,B,1,3100,6,3090
B2,B,2,3100,6,3090
S1,,,2100,5,
";

#[test]
fn a_rack_by_the_board_is_planned_to_the_byte_like_the_same_rack_by_the_strip() {
    let by_strip = Folder::small();
    by_strip.write("strips.csv", STRIPS);
    by_strip.lay().ended(0);
    let by_board = Folder::small();
    by_board.write("boards.csv", BOARDS);
    by_board.write("strips.csv", "strip,length,colour\nS1,2100,5\n");
    by_board.lay().ended(0);

    let (mut plans, mut others) = (by_strip.out(), by_board.out());
    // Only which files it was made from differs.
    for out in [&mut plans, &mut others] {
        assert!(out.remove("report.html").is_some());
        let json = String::from_utf8(out.remove("plan.json").unwrap()).unwrap();
        let mut json: serde_json::Value = serde_json::from_str(&json).unwrap();
        assert!(json.as_object_mut().unwrap().remove("inputs").is_some());
        out.insert("plan.json".into(), json.to_string().into_bytes());
    }
    assert!(plans == others);
    by_board.run("check", &[]).ended(0);
}

#[test]
fn a_job_needs_boards_or_strips() {
    let folder = Folder::small();
    fs::remove_file(folder.path().join("strips.csv")).unwrap();
    let ran = folder.lay().ended(2);
    ran.warns("strips.csv: there is neither this file nor boards.csv");
}
