//! What is wrong with a piece of JSON, in words that need no knowledge of this program's types.

/// What the parser says, without the place, which is told separately.
pub fn json_words(error: &serde_json::Error) -> String {
    let text = error.to_string();
    let said = text.split(" at line ").next().unwrap_or(&text);
    if error.is_eof() {
        return "it ends in the middle, as if it had been cut short".to_owned();
    }
    if let Some(key) = said.strip_prefix("missing field ") {
        return format!("{key} is missing");
    }
    if let Some((found, needed)) =
        said.strip_prefix("unknown variant ").and_then(|rest| rest.split_once(", expected "))
    {
        return format!("{found} is not known ({needed} needed)");
    }
    let misfit =
        said.strip_prefix("invalid type: ").or_else(|| said.strip_prefix("invalid value: "));
    match misfit.and_then(|rest| rest.rsplit_once(", expected ")) {
        Some((found, needed)) => format!("{} found ({} needed)", of_json(found), of_rust(needed)),
        None => said.to_owned(),
    }
}

/// `floating point `3.5`` is a number to everybody else.
fn of_json(found: &str) -> String {
    for (kind, shown) in [
        ("floating point ", ""),
        ("integer ", ""),
        ("boolean ", ""),
        ("string ", "the text "),
        ("map", "an object"),
        ("sequence", "a list"),
    ] {
        if let Some(value) = found.strip_prefix(kind) {
            return format!("{shown}{}", value.replace('`', ""));
        }
    }
    found.to_owned()
}

fn of_rust(needed: &str) -> String {
    let words = match needed {
        "f64" => "a number",
        "u32" | "u64" | "usize" => "a whole number, 0 or more,",
        "i32" => "a whole number",
        "a string" => "a text",
        "a sequence" => "a list",
        "a map" | "map" => "an object",
        "a boolean" => "true or false",
        thing if thing.starts_with("struct ") || thing.starts_with("internally tagged") => {
            "an object"
        }
        other => other,
    };
    words.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::marks::{Footfall, Mark};

    fn words<T: serde::de::DeserializeOwned>(text: &str) -> String {
        json_words(&serde_json::from_str::<T>(text).err().unwrap())
    }

    #[test]
    fn no_type_of_ours_is_named() {
        let mark = |key: &str, value: &str| {
            let mut known = serde_json::json!({ "frame": 3, "x": 1.0, "y": 2.0, "sd_px": 1.0 });
            known[key] = serde_json::from_str(value).unwrap();
            let error = serde_json::from_value::<Mark>(known).err().unwrap();
            json_words(&error)
        };
        assert_eq!(mark("x", "\"12\""), "the text \"12\" found (a number needed)");
        assert_eq!(mark("x", "null"), "null found (a number needed)");
        assert_eq!(mark("x", "[1]"), "a list found (a number needed)");
        assert_eq!(mark("frame", "3.5"), "3.5 found (a whole number, 0 or more, needed)");
        assert_eq!(mark("frame", "-3"), "-3 found (a whole number, 0 or more, needed)");
        assert_eq!(words::<Footfall>("{}"), "`id` is missing");
        assert_eq!(words::<Mark>("{\"x\""), "it ends in the middle, as if it had been cut short");
    }
}
