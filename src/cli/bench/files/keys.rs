//! boat.toml as a form: a field with words for each key. Comments and the order of keys stay as they are.

use maud::{Markup, html};
use std::collections::BTreeMap;
use toml_edit::{ArrayOfTables, DocumentMut, Formatted, Item, Table, TomlError, Value};

/// The tables that there are once: their names, what they are called, and a line for each key. It is the key, in quotes
/// where its value is always text, and its words. The first table is the top of the file.
const TABLES: [(&str, &str, &str); 7] = [
    (
        "",
        "The job",
        r#"
        "name" Name
        "units" Units of bare numbers: mm or in
        "#,
    ),
    (
        "strip",
        "The strips",
        r#"
        width Width that one course covers
        thickness Thickness
        "edges" Edges: square or bead-and-cove
        "next_edge" With bead and cove: the edge that looks to the next course, A or B
        overlap With bead and cove: how far a bead lies in its cove
        gape How far a joint between courses may stand open before it is worth a word
        "#,
    ),
    (
        "joint",
        "Joints",
        r#"
        slope A scarf is so many times as long as the strip is thick
        clear Joints of near courses are so far apart along the boat
        clear_courses Courses are near whose numbers differ by this or less
        shortest_piece Shortest piece
        most Most joints in one course
        "#,
    ),
    (
        "allow",
        "Allowances",
        r#"
        fitted_end Extra length at an end that is cut to fit
        free_end Extra length at an end that is trimmed later
        saw Lost at each cross-cut
        defect Kept clear on each side of a knot, shake or break
        end_trim Never used at each end of a strip as it lies in the rack
        "#,
    ),
    (
        "cost",
        "What counts in looks",
        r#"
        board board: a seam between two boards, a metre
        skip skip: each slice between two pieces of one board
        shift shift: figure that does not run on from course to course
        foster foster: mates from two boards, a metre
        joint joint: each joint
        cut cut: each strip that is cut into
        relabel relabel: each piece that needs new labels
        "#,
    ),
    (
        "mill",
        "At the saw",
        r#"
        kerf Lost at each cut when boards are ripped
        planing Lost of each slice when its sawn faces are planed
        promised Plan with boards that are not sawn yet: true or false
        "#,
    ),
    (
        "paper",
        "Paper",
        r#"
        "page" Page: A4 or Letter
        "labels" Sheets of labels, as A4 3x7
        "#,
    ),
];

/// The tables of which there may be several, and what one is called; likewise.
const LISTS: [(&str, &str, &str); 4] = [
    (
        "panel",
        "Panel",
        r#"
        "name" Name
        "toward" Which way its courses run: keel or deck
        look How much its looks count
        "lay" Laid alternate, port-first or starboard-first
        "shade" Goes darker or lighter from the start line on; empty: either way
        against What a step the wrong way costs
        "bow_end" What the courses meet at the forward end
        "stern_end" What the courses meet at the after end
        "stop" What they meet where they run out on the stop line
        "centre" Which course lies on the centreline: first, last or none
        bow_end_to Courses that run out forward of here end as at the bow
        stern_end_from Courses that run out aft of here end as at the stern
        start_length The start line along the skin, measured with a batten
        stop_length The stop line along the skin
        "#,
    ),
    (
        "keep_clear",
        "Zone kept clear of joints",
        r#"
        "name" Name
        "panel" Panel
        courses First and last course, as [1, 4]; empty: all
        from From, measured from the bow
        to To, measured from the bow
        "#,
    ),
    (
        "show",
        "Zone that shows",
        r#"
        "name" Name
        "panel" Panel
        courses First and last course, as [1, 9]; empty: all
        from From, measured from the bow
        to To, measured from the bow
        times So many times looks count here
        "#,
    ),
    (
        "want",
        "Want",
        r#"
        "name" Name
        "panel" Panel
        course Course, where it is one alone
        courses First and last course, as [1, 2]; empty, with no course: the whole panel
        "wood" The kind of wood that may lie there
        boards Boards that may lie there, as ["N"]
        strips Strips, as ["D3", "D4"]
        keep What is named here lies nowhere else: true or false; empty: true with strips or accent
        accent A line that is meant to stand out: by so large a step in colour, as 12
        "port" With two strips: which of them goes to port
        "#,
    ),
];

/// A key, whether its value is always text, and its words.
type Key = (&'static str, bool, &'static str);

fn keys(lines: &'static str) -> Vec<Key> {
    let key = |line: &'static str| {
        let (quoted, words) = line.trim().split_once(' ')?;
        let name = quoted.trim_matches('"');
        Some((name, name != quoted, words))
    };
    lines.lines().filter_map(key).collect()
}

/// The form's fields, with what is in the file.
///
/// Errors: the file is no TOML.
pub fn fields(text: &str) -> Result<Markup, TomlError> {
    let boat: DocumentMut = text.parse()?;
    Ok(html! {
        @for (table, title, lines) in TABLES {
            fieldset {
                legend { (title) }
                @for key in keys(lines) { (field(table, &key, the(&boat, table))) }
            }
        }
        @for (list, title, lines) in LISTS {
            @let all = boat.get(list).and_then(Item::as_array_of_tables);
            @let many = all.map_or(0, ArrayOfTables::len);
            @for n in 0..=many {
                @let one = all.and_then(|all| all.get(n));
                @let title = format!("{title} {}", n + 1);
                @let fields = html! { @for key in keys(lines) { (field(&format!("{list}.{n}"), &key, one)) } };
                @if one.is_some() {
                    fieldset { legend { (title) } (fields) }
                } @else {
                    details { summary { "One more: " (title) } fieldset { legend { (title) } (fields) } }
                }
            }
        }
        p.hint { "A zone or a want of which every field is emptied goes out of the file." }
    })
}

fn the<'b>(boat: &'b DocumentMut, table: &str) -> Option<&'b Table> {
    match table {
        "" => Some(boat.as_table()),
        _ => boat.get(table)?.as_table(),
    }
}

fn field(table: &str, (key, _, words): &Key, from: Option<&Table>) -> Markup {
    let name = format!("{table}.{key}");
    let id = format!("key-{name}");
    let value = from
        .and_then(|table| written(table.get(key)?))
        .unwrap_or_default();
    html! {
        label for=(id) { (words) }
        input id=(id) name=(name) value=(value) autocomplete="off" autocapitalize="off" spellcheck="false";
    }
}

/// A value as it is typed: text without its quotes.
fn written(item: &Item) -> Option<String> {
    let value = item.as_value()?;
    Some(match value {
        Value::String(text) => text.value().clone(),
        other => other.to_string().trim().to_owned(),
    })
}

/// The file with what was typed in the fields. A field that was emptied takes its key out.
///
/// Errors: the file is no TOML.
pub fn with(text: &str, typed: &BTreeMap<String, String>) -> Result<String, TomlError> {
    let mut boat: DocumentMut = text.parse()?;
    for (table, _, lines) in TABLES {
        for key in &keys(lines) {
            let Some(new) = typed.get(&format!("{table}.{}", key.0)) else {
                continue;
            };
            if table.is_empty() {
                set(boat.as_table_mut(), key, new);
            } else if !new.trim().is_empty() || boat.contains_key(table) {
                let item = boat.entry(table).or_insert_with(toml_edit::table);
                if let Some(table) = item.as_table_mut() {
                    set(table, key, new);
                }
            }
        }
    }
    for (list, _, lines) in LISTS {
        let keys = keys(lines);
        let said = |n: usize, key: &Key| typed.get(&format!("{list}.{n}.{}", key.0));
        let tables = boat.get(list).and_then(Item::as_array_of_tables);
        let many = tables.map_or(0, ArrayOfTables::len);
        let is_one_more = keys
            .iter()
            .any(|key| said(many, key).is_some_and(|new| !new.trim().is_empty()));
        if is_one_more {
            let none = || Item::ArrayOfTables(ArrayOfTables::new());
            let item = boat.entry(list).or_insert_with(none);
            if let Some(all) = item.as_array_of_tables_mut() {
                all.push(Table::new());
            }
        }
        let Some(all) = boat.get_mut(list).and_then(Item::as_array_of_tables_mut) else {
            continue;
        };
        for (n, table) in all.iter_mut().enumerate() {
            for key in &keys {
                if let Some(new) = said(n, key) {
                    set(table, key, new);
                }
            }
        }
        let is_emptied = |n: &usize| {
            let mut fields = keys.iter().map(|key| said(*n, key));
            fields.all(|new| new.is_some_and(|new| new.trim().is_empty()))
        };
        for n in (0..all.len()).rev().filter(is_emptied) {
            all.remove(n);
        }
    }
    Ok(boat.to_string())
}

fn set(table: &mut Table, (key, is_text, _): &Key, typed: &str) {
    let typed = typed.trim();
    let before = table.get(key);
    if before.and_then(written).unwrap_or_default() == typed {
        return;
    }
    if typed.is_empty() {
        table.remove(key);
        return;
    }
    let mut value = match *is_text {
        true => text(typed),
        false => typed.parse().unwrap_or_else(|_| text(typed)),
    };
    // What stands behind it on its line stays there.
    if let Some(before) = before.and_then(Item::as_value) {
        *value.decor_mut() = before.decor().clone();
    }
    // Put in anew, the key would lose the comment above it.
    match table.get_mut(key) {
        Some(item) => *item = Item::Value(value),
        None => {
            table.insert(key, Item::Value(value));
        }
    }
}

fn text(typed: &str) -> Value {
    Value::String(Formatted::new(typed.to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(pairs: &[(&str, &str)]) -> BTreeMap<String, String> {
        let own = |(key, value): &(&str, &str)| ((*key).to_owned(), (*value).to_owned());
        pairs.iter().map(own).collect()
    }

    #[test]
    fn a_key_changes_and_everything_beside_it_stays() {
        let before = "# mine\nname = \"Skiff\"\n\n[strip]\nwidth = 19 # measured\nedges = \"square\"\n\n[[panel]]\n\
                      name = \"side\" # only one\n";
        let changes = [
            (".name", "Wide \"One\""),
            ("strip.width", "3/4 in"),
            ("strip.edges", ""),
            ("allow.saw", "3"),
            ("mill.kerf", ""),
            ("panel.0.name", "side"),
            ("panel.0.look", "1.5"),
            ("panel.7.name", "none"),
            ("want.0.name", "dark line"),
            ("want.0.course", "3"),
            ("want.0.boards", "[\"L\"]"),
            ("want.0.strips", ""),
        ];
        let after = with(before, &typed(&changes)).unwrap();
        assert!(after.starts_with("# mine\nname = "), "{after}");
        assert!(after.contains("width = \"3/4 in\" # measured\n"), "{after}");
        assert!(
            !after.contains("edges") && !after.contains("[mill]"),
            "{after}"
        );
        assert!(after.contains("[allow]\nsaw = 3\n"), "{after}");
        assert!(
            after.contains("name = \"side\" # only one\nlook = 1.5\n"),
            "{after}"
        );
        let read: toml::Table = after.parse().unwrap();
        assert_eq!(read["name"].as_str(), Some("Wide \"One\""));
        let want = read["want"][0].as_table().unwrap();
        assert_eq!((want.len(), want["course"].as_integer()), (3, Some(3)));
        assert_eq!(want["boards"][0].as_str(), Some("L"));
        // Every field emptied: gone, and nothing else with it.
        let emptied: Vec<(String, String)> = keys(LISTS[3].2)
            .iter()
            .map(|(key, ..)| (format!("want.0.{key}"), String::new()))
            .collect();
        let gone = with(&after, &emptied.into_iter().collect()).unwrap();
        assert!(
            !gone.contains("want") && gone.contains("look = 1.5"),
            "{gone}"
        );
        // Nothing typed, nothing changed.
        assert_eq!(
            with(before, &typed(&[("strip.width", "19"), (".name", "Skiff")])).unwrap(),
            before
        );
    }
}
