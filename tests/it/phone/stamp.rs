//! The shipped engines must be of the sources as they are, and must name no machine.

use std::path::Path;
use std::process::Command;

#[test]
fn the_shipped_engine_is_of_these_sources() {
    check_stamp("bench");
}

#[test]
fn the_shipped_search_is_of_these_sources() {
    check_stamp("search");
}

fn check_stamp(engine: &str) {
    let top = Path::new(env!("CARGO_MANIFEST_DIR"));
    let told = Command::new("sh")
        .args(["site/engine/build", "check", engine])
        .current_dir(top)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&told.stderr);
    assert!(told.status.success(), "{said}");
}

fn bytes(engine: &str) -> Vec<u8> {
    let top = Path::new(env!("CARGO_MANIFEST_DIR"));
    std::fs::read(top.join(format!("site/engine/{engine}.wasm"))).unwrap()
}

#[test]
fn the_shipped_engines_name_no_machine() {
    for (engine, word) in [("bench", "diagnose"), ("search", "codes")] {
        let bytes = bytes(engine);
        let text = String::from_utf8_lossy(&bytes);
        assert!(text.contains(word), "its words were not found");
        for path in ["/registry/", "/.cargo", "/.rustup", "/src/"] {
            assert!(!text.contains(path), "{path} stands in {engine}");
        }
    }
}

/// What goes over the wire, packed as for publishing; the budget of an engine.
#[test]
fn the_shipped_engines_are_small() {
    for engine in ["bench", "search"] {
        let mut packed = Vec::new();
        let settings = brotli::enc::BrotliEncoderParams {
            quality: 11,
            ..Default::default()
        };
        brotli::BrotliCompress(&mut &bytes(engine)[..], &mut packed, &settings).unwrap();
        assert!(
            packed.len() <= 150_000,
            "{engine}: {} bytes packed",
            packed.len()
        );
    }
}
