//! What goes between page and program.

use std::path::Path;

use groundline::desk::wire::page_types;

#[test]
fn the_pages_types_are_those_of_the_program() {
    // GROUNDLINE_WIRE=write cargo test --test it desk_wire takes them anew.
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/desk/page/wire.d.ts");
    if std::env::var("GROUNDLINE_WIRE").is_ok_and(|value| value == "write") {
        std::fs::write(&kept, page_types()).unwrap();
    }
    assert_eq!(std::fs::read_to_string(kept).unwrap(), page_types());
}
