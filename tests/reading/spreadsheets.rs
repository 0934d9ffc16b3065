//! Sheets as spreadsheets: the same job as from CSV, complaints by cell, and files that are meant to do harm.

use crate::folder::Folder;
use crate::says::Says;
use proptest::prelude::*;
use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Workbook};
use std::fs;
use std::io::{Cursor, Write};
use zip::write::SimpleFileOptions;

/// What the files in tests/reference/spreadsheets hold.
const SAME: &str = "\
strip,board,seq,length,colour,defects,notes
A1,A,1,4300,70 8 24,,\"é ½ \"\"q\"\"\"
A2,A,2,4310.5,#c4936a,1200-1260; 2210,
A3,A,3,4305,70 8 24,,

S,,,3.9 m,7,,stray; left over
";

fn reference(file: &str) -> Vec<u8> {
    fs::read(format!("tests/reference/spreadsheets/{file}")).unwrap()
}

fn in_place_of_strips(file: &'static str, bytes: impl Into<Vec<u8>>) -> Folder {
    Folder::good().without("strips.csv").with(file, bytes)
}

/// A sheet typed into a spreadsheet: numbers as numbers.
fn typed(csv: &str, name: &str) -> Vec<u8> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet().set_name(name).unwrap();
    for (row, line) in csv.lines().enumerate() {
        for (column, text) in line.split(',').enumerate() {
            let (row, column) = (row as u32, column as u16);
            match text.parse::<f64>() {
                Ok(number) => sheet.write_number(row, column, number).unwrap(),
                Err(_) => sheet.write_string(row, column, text).unwrap(),
            };
        }
    }
    book.save_to_buffer().unwrap()
}

#[test]
fn a_rack_in_a_spreadsheet_of_any_writer_is_the_rack_in_csv() {
    let csv = Folder::good().with("strips.csv", SAME).job();
    for (file, written) in [
        ("strips.xlsx", "openpyxl.xlsx"),
        ("strips.ods", "odfpy.ods"),
        ("strips.xlsx", "libreoffice.xlsx"),
        ("strips.ods", "libreoffice.ods"),
    ] {
        assert_eq!(
            in_place_of_strips(file, reference(written)).job(),
            csv,
            "{written}"
        );
    }
}

#[test]
fn every_sheet_may_be_a_spreadsheet_and_its_own_name_goes_into_the_list_of_files() {
    let boards = "board,slices,length,colour\nA,3,4300,5\n";
    let forms = "form,from_bow,side\n1,0,19\n2,4000,19\n";
    let csv = Folder::good()
        .without("strips.csv")
        .without("courses.csv")
        .with("boards.csv", boards)
        .with("forms.csv", forms)
        .change(
            "boat.toml",
            "\n[[panel]]\nname = \"deck\"\ntoward = \"deck\"\nlook = 0.5\nlay = \"port-first\"\n",
            "",
        )
        .change("boat.toml", "courses = [1, 2]", "courses = [1, 1]");
    let sheets = csv
        .clone()
        .without("boards.csv")
        .without("forms.csv")
        .with("boards.xlsx", typed(boards, "Sheet1"))
        .with("forms.xlsx", typed(forms, "Sheet1"));
    let reading = sheets.reading();
    assert_eq!(reading.job, csv.job());
    let files: Vec<&str> = reading
        .digests
        .iter()
        .map(|digest| digest.file.as_str())
        .collect();
    assert_eq!(files, ["boat.toml", "forms.xlsx", "boards.xlsx"]);
}

#[test]
fn of_several_sheets_the_one_of_that_name_counts_else_the_first() {
    let mut book = Workbook::new();
    book.add_worksheet()
        .set_name("Notes")
        .unwrap()
        .write_string(0, 0, "buy glue")
        .unwrap();
    let sheet = book.add_worksheet().set_name("Strips").unwrap();
    for (column, text) in ["strip", "board", "seq", "length", "colour"]
        .into_iter()
        .enumerate()
    {
        sheet.write_string(2, column as u16 + 1, text).unwrap();
    }
    for (column, text) in ["X", "", "", "39OO", "5"].into_iter().enumerate() {
        sheet.write_string(4, column as u16 + 1, text).unwrap();
    }
    let folder = in_place_of_strips("strips.xlsx", book.save_to_buffer().unwrap());
    folder.complaint()
        .is("strips.xlsx, sheet Strips, E5, length: \"39OO\" has an unknown unit, OO. Write mm, cm, m, in or ft.");
    let first = folder.complaints();
    assert_eq!(
        (first[0].line, first[0].cell.as_deref()),
        (Some(5), Some("E5"))
    );
}

#[test]
fn complaints_name_the_cell_or_the_row() {
    let twice = typed(
        "strip,board,seq,length,colour\nX,,,4000,5\nX,,,4000,5\n",
        "Sheet1",
    );
    in_place_of_strips("strips.xlsx", twice).complaint().is(
        "strips.xlsx, A3, strip: \"X\" is there twice: row 2 has a strip of this name. Give every strip a name of its \
        own.",
    );
    let short = typed("strip,board,seq,length\nX,,,4000\n", "Sheet1");
    in_place_of_strips("strips.xlsx", short).complaint().is(
        "strips.xlsx, row 1, colour: the column is missing. Add it; the header is then strip,board,seq,length,width,\
         thickness,colour,wood,grain,sister,defects,notes.",
    );
}

#[test]
fn a_cell_that_became_a_date_or_was_never_reckoned_is_refused_by_its_name() {
    let all: Vec<String> = in_place_of_strips("strips.xlsx", reference("mangled.xlsx"))
        .complaints()
        .iter()
        .map(ToString::to_string)
        .collect();
    assert_eq!(
        all,
        [
            "strips.xlsx, D3, length: the field is a formula without a stored value. Open the file in a spreadsheet program \
             and save it, or type the value.",
            "strips.xlsx, F3, defects: \"46115\" has been turned into a date by the spreadsheet. Format the cell as text and \
             type it again.",
        ]
    );
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for (column, text) in ["strip", "board", "seq", "length", "colour", "bought"]
        .into_iter()
        .enumerate()
    {
        sheet.write_string(0, column as u16, text).unwrap();
    }
    let day = ExcelDateTime::from_ymd(2026, 4, 3).unwrap();
    let format = Format::new().set_num_format("d/m");
    sheet.write_string(1, 0, "X").unwrap();
    sheet
        .write_formula(1, 3, Formula::new("=4000+300").set_result("4300"))
        .unwrap();
    sheet
        .write_formula(1, 4, Formula::new("=1/0").set_result("#DIV/0!"))
        .unwrap();
    sheet
        .write_datetime_with_format(1, 5, &day, &format)
        .unwrap();
    let folder = in_place_of_strips("strips.xlsx", book.save_to_buffer().unwrap());
    assert_eq!(
        folder.complaint(),
        "strips.xlsx, E2, colour: \"#DIV/0!\" is a formula that came to nothing. Mend the formula, or type the value.",
        "a date under a column of one's own is nobody's business"
    );
}

#[test]
fn two_files_for_one_sheet_are_refused() {
    let both = Folder::good().with("strips.xlsx", reference("openpyxl.xlsx"));
    both.complaint().is(
        "strips.csv: is there, and so is strips.xlsx: no telling which of them counts. Keep one of them in the \
         folder.",
    );
    let spreadsheets =
        in_place_of_strips("strips.xlsx", reference("openpyxl.xlsx")).with("strips.ods", "");
    spreadsheets
        .complaint()
        .begins("strips.xlsx: is there, and so is strips.ods");
    Folder::good()
        .with("log.ods", reference("odfpy.ods"))
        .complaint().is(
        "log.ods: is a spreadsheet, and the log can't be one: every command adds a line to it. Save it as log.csv, and take \
         this file out of the folder.",
    );
}

/// An archive of one file, packed.
fn packed(name: &str, content: &[u8]) -> Vec<u8> {
    let mut archive = zip::ZipWriter::new(Cursor::new(Vec::new()));
    archive
        .start_file(name, SimpleFileOptions::default())
        .unwrap();
    archive.write_all(content).unwrap();
    archive.finish().unwrap().into_inner()
}

#[test]
fn a_small_file_that_unpacks_to_a_huge_one_is_refused() {
    let large = "the file is far too large for a sheet of a job. Keep one sheet in the file, with nothing but the rows of the \
                 job.";
    let zeros = packed("content.xml", &vec![b' '; 60 << 20]);
    assert!(zeros.len() < 100_000);
    assert_eq!(
        in_place_of_strips("strips.ods", zeros.clone()).complaint(),
        format!("strips.ods: {large}")
    );
    assert_eq!(
        in_place_of_strips("strips.xlsx", zeros).complaint(),
        format!("strips.xlsx: {large}")
    );
    // A row of cells, written once and repeated.
    let repeated = r#"<office:document-content><table:table table:name="Rack">
        <table:table-row table:number-rows-repeated="1000000"><table:table-cell table:number-columns-repeated="16000"
        office:value-type="float" office:value="1"/></table:table-row></table:table></office:document-content>"#;
    assert_eq!(
        in_place_of_strips("strips.ods", packed("content.xml", repeated.as_bytes())).complaint(),
        format!("strips.ods: {large}")
    );
    // A cell at the far end of a sheet.
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write_string(0, 0, "strip").unwrap();
    sheet.write_string(1_048_575, 16_383, "far").unwrap();
    assert_eq!(
        in_place_of_strips("strips.xlsx", book.save_to_buffer().unwrap()).complaint(),
        format!("strips.xlsx: {large}")
    );
}

#[test]
fn what_is_no_spreadsheet_is_refused() {
    for bytes in ["", "strip,board", "PK\u{3}\u{4}"] {
        in_place_of_strips("strips.xlsx", bytes).complaint().is(
            "strips.xlsx: the file is not a spreadsheet that can be read. Save it again as .xlsx or .ods, without a \
             password; or save the sheet as CSV UTF-8.",
        );
    }
    let cut = reference("odfpy.ods");
    let cut = cut[..cut.len() / 2].to_vec();
    in_place_of_strips("strips.ods", cut)
        .complaint()
        .says("is not a spreadsheet that can be read");
}

/// The parts of an archive, unpacked.
fn parts(bytes: &[u8]) -> Vec<(String, Vec<u8>)> {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    (0..archive.len())
        .map(|place| {
            let mut part = archive.by_index(place).unwrap();
            let mut content = Vec::new();
            std::io::Read::read_to_end(&mut part, &mut content).unwrap();
            (part.name().unwrap().into_owned(), content)
        })
        .collect()
}

/// A spreadsheet with bytes of one of its parts changed, and packed again; or its packed bytes changed.
fn spoiled(file: &'static str) -> impl Strategy<Value = Vec<u8>> {
    let bytes = reference(file);
    let change = (
        any::<prop::sample::Index>(),
        any::<prop::sample::Index>(),
        "[<>/=\"0-9a-z:]{0,4}",
    );
    (any::<bool>(), proptest::collection::vec(change, 1..5)).prop_map(move |(outside, changes)| {
        let splice = |bytes: &mut Vec<u8>, at: &prop::sample::Index, odd: &str| {
            let at = at.index(bytes.len().max(1)).min(bytes.len());
            let end = (at + odd.len()).min(bytes.len());
            bytes.splice(at..end, odd.bytes());
        };
        if outside {
            let mut bytes = bytes.clone();
            for (_, at, odd) in &changes {
                splice(&mut bytes, at, odd);
            }
            return bytes;
        }
        let mut parts = parts(&bytes);
        for (part, at, odd) in &changes {
            let part = part.index(parts.len());
            splice(&mut parts[part].1, at, odd);
        }
        let mut archive = zip::ZipWriter::new(Cursor::new(Vec::new()));
        for (name, content) in parts {
            archive
                .start_file(name, SimpleFileOptions::default())
                .unwrap();
            archive.write_all(&content).unwrap();
        }
        archive.finish().unwrap().into_inner()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: crate::fuzz::cases(), ..ProptestConfig::default() })]

    #[test]
    fn a_spoiled_xlsx_is_judged(bytes in spoiled("openpyxl.xlsx")) {
        crate::fuzz::is_judged(&in_place_of_strips("strips.xlsx", bytes));
    }

    #[test]
    fn a_spoiled_ods_is_judged(bytes in spoiled("odfpy.ods")) {
        crate::fuzz::is_judged(&in_place_of_strips("strips.ods", bytes));
    }

    #[test]
    fn any_bytes_called_a_spreadsheet_are_judged(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        crate::fuzz::is_judged(&in_place_of_strips("strips.xlsx", bytes.clone()));
        crate::fuzz::is_judged(&in_place_of_strips("strips.ods", bytes));
    }
}
