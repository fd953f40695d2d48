//! Markdown tables and how their numbers are written.

use super::score::{Datum, Plain, Quantity, Summary};

/// A table under way.
pub struct Table {
    text: String,
}

impl Table {
    pub fn new(columns: &[&str]) -> Self {
        let rule: Vec<&str> =
            columns.iter().enumerate().map(|(i, _)| if i == 0 { "---" } else { "---:" }).collect();
        Self { text: format!("| {} |\n|{}|\n", columns.join(" | "), rule.join("|")) }
    }

    pub fn row(&mut self, cells: &[String]) {
        self.text.push_str(&format!("| {} |\n", cells.join(" | ")));
    }

    pub fn finish(self) -> String {
        self.text + "\n"
    }
}

/// Columns of a row that judges one quantity, after its name.
pub const JUDGED: [&str; 9] = [
    "numbers",
    "RMS error",
    "half are below",
    "bias",
    "stated sd",
    "95 % interval holds",
    "homography RMS",
    "half are below",
    "it measures",
];

/// The cells of one row; `plain` is false where OpenCV was not asked.
pub fn judged(quantity: Quantity, data: &[&Datum], plain: bool) -> Option<Vec<String>> {
    let summary = Summary::of(data.iter().copied())?;
    let (unit, scale, digits) = quantity.printed();
    let number = |value: f64| written(value * scale, digits, unit);
    let mut cells = vec![
        summary.count.to_string(),
        number(summary.rms),
        number(summary.median),
        signed(summary.bias * scale, digits, unit),
        number(summary.stated),
        format!("{:.1} ± {:.1} %", summary.coverage, 1.96 * summary.coverage_sd),
    ];
    match Plain::of(data.iter().copied()).filter(|_| plain) {
        Some(of) => {
            cells.extend([number(of.rms), number(of.median), format!("{:.0} %", of.measured)]);
        }
        None => cells.extend(["", "", ""].map(String::from)),
    }
    Some(cells)
}

/// A number with its unit; lengths of a hundred metres and more are in metres.
pub fn written(value: f64, digits: usize, unit: &str) -> String {
    match unit {
        "cm" if value.abs() >= 10_000.0 => format!("{:.0} m", value / 100.0),
        "cm" if value.abs() >= 1000.0 => format!("{:.1} m", value / 100.0),
        "°" => format!("{value:.digits$}°"),
        _ => format!("{value:.digits$} {unit}"),
    }
}

/// The same with its sign, and never −0.
pub fn signed(value: f64, digits: usize, unit: &str) -> String {
    let text = written(value.abs(), digits, unit);
    let is_zero = text.chars().all(|c| !c.is_ascii_digit() || c == '0');
    match (is_zero, value < 0.0) {
        (true, _) => text,
        (false, true) => format!("−{text}"),
        (false, false) => format!("+{text}"),
    }
}
