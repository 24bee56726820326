//! Pages that tell the keys of a file in tables, and the groups of such a file.

use std::collections::BTreeSet;

use serde_yaml::Value;

/// A line of one of a page's tables.
pub struct Row<'p> {
    pub key: &'p str,
    pub says: &'p str,
    pub range: &'p str,
    pub left_out: &'p str,
}

/// The rows under headings of a page.
pub fn rows<'p>(page: &'p str, headings: &[&str]) -> Vec<Row<'p>> {
    let mut rows = Vec::new();
    for heading in headings {
        let start = page.find(&format!("# {heading}\n"));
        let start = start.unwrap_or_else(|| panic!("no part `{heading}`"));
        let part = &page[start..];
        let lines = part.lines().skip(1).take_while(|l| !l.starts_with('#'));
        for line in lines.filter(|line| line.starts_with("| `")) {
            let cells: Vec<&str> = line.split('|').map(str::trim).collect();
            let [_, key, says, range, left_out, _] = cells[..] else {
                panic!("{line}")
            };
            rows.push(Row {
                key: key.trim_matches('`'),
                says,
                range,
                left_out,
            });
        }
    }
    assert!(!rows.is_empty(), "no table under {headings:?}");
    rows
}

/// The reader's own list of keys, in what it says of one that is none.
pub fn known(unknown: &str) -> BTreeSet<&str> {
    let list = unknown.split("its keys are ").nth(1);
    let list = list.unwrap_or_else(|| panic!("{unknown}"));
    list.split('`').skip(1).step_by(2).collect()
}

/// The group at a path such as `loops.0.tank`.
pub fn group<'a>(file: &'a mut Value, path: &str) -> &'a mut Value {
    let steps = path.split('.').filter(|step| !step.is_empty());
    steps.fold(file, |value, step| match step.parse::<usize>() {
        Ok(index) => &mut value[index],
        Err(_) => &mut value[step],
    })
}

/// A file with one key stated anew, or left out.
pub fn with(mut file: Value, path: &str, key: &str, value: Option<&str>) -> String {
    let mapping = group(&mut file, path).as_mapping_mut().unwrap();
    match value {
        Some(value) => {
            mapping.insert(key.into(), serde_yaml::from_str(value).unwrap());
        }
        None => {
            mapping.remove(key);
        }
    }
    serde_yaml::to_string(&file).unwrap()
}
