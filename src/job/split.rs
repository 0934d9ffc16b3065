//! From the text of a sheet to its records: which delimiter, and which line each record begins on.

/// One record and the line on which it begins.
pub(super) struct Record {
    pub(super) line: usize,
    pub(super) fields: Vec<String>,
}

/// Where a quote was opened and never closed.
pub(super) struct OpenQuote {
    pub(super) line: usize,
}

/// Column names are compared in lower case, with a space or a hyphen as good as an underscore.
pub(super) fn column_name(header: &str) -> String {
    header.trim().to_lowercase().replace([' ', '-'], "_")
}

/// Finds the delimiter from the header: the one that finds the most of the known columns, then the one that makes the
/// most fields; comma before semicolon before tab.
pub(super) fn delimiter(text: &str, is_known: impl Fn(&str) -> bool) -> u8 {
    let header = text.lines().find(|line| !line.trim().is_empty());
    let header = header.unwrap_or_default();
    let mut best = (b',', (0, 0));
    for delimiter in [b',', b';', b'\t'] {
        let fields: Vec<&str> = header.split(char::from(delimiter)).collect();
        let known = fields
            .iter()
            .filter(|field| is_known(field.trim().trim_matches('"')))
            .count();
        if (known, fields.len()) > best.1 {
            best = (delimiter, (known, fields.len()));
        }
    }
    best.0
}

/// Splits a text into records; rows with nothing in them are passed over. A quote counts only at the start of a
/// field, so that `16' 4 1/2"` is an ordinary field.
///
/// Errors: the line where a quote opens that is never closed.
pub(super) fn records(text: &str, delimiter: u8) -> Result<Vec<Record>, OpenQuote> {
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes());
    let mut all = Vec::new();
    let (mut line, mut counted) = (1, 0);
    let mut record = csv::StringRecord::new();
    // The reader works on text that is in memory and valid: it has nothing to fail on.
    while reader.read_record(&mut record).unwrap_or(false) {
        let Some(start) = record.position().map(|p| p.byte() as usize) else {
            break;
        };
        // The reader's own count of lines is that of the first blank line before the record.
        let blank = text[start..].bytes().take_while(|b| *b == b'\n').count();
        line += newlines(&text[counted..start + blank]);
        counted = start + blank;
        if record.iter().any(|field| !field.trim().is_empty()) {
            all.push(Record {
                line,
                fields: record.iter().map(|field| field.trim().to_owned()).collect(),
            });
        }
    }
    // Only the last record can have a quote that is never closed.
    if ends_in_quotes(&text[counted..], delimiter) {
        return Err(OpenQuote { line });
    }
    Ok(all)
}

fn newlines(text: &str) -> usize {
    text.bytes().filter(|b| *b == b'\n').count()
}

/// Whether a quote is still open at the end of a text that begins with a record.
fn ends_in_quotes(text: &str, delimiter: u8) -> bool {
    let mut bytes = text.bytes().peekable();
    let (mut quoted, mut field_start) = (false, true);
    while let Some(byte) = bytes.next() {
        match (quoted, byte) {
            (true, b'"') if bytes.peek() == Some(&b'"') => {
                bytes.next();
            }
            (true, b'"') => quoted = false,
            (true, _) => {}
            (false, b'"') if field_start => quoted = true,
            (false, _) => {}
        }
        field_start = !quoted && (byte == delimiter || byte == b'\n');
    }
    quoted
}
