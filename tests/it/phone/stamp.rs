//! The shipped engine must be of the sources as they are, and must name no machine.

use std::path::Path;
use std::process::Command;

#[test]
fn the_shipped_engine_is_of_these_sources() {
    let top = Path::new(env!("CARGO_MANIFEST_DIR"));
    let told = Command::new("sh")
        .args(["site/engine/build", "check"])
        .current_dir(top)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&told.stderr);
    assert!(told.status.success(), "{said}");
}

#[test]
fn the_shipped_engine_names_no_machine() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("site/engine/bench.wasm");
    let bytes = std::fs::read(path).unwrap();
    let text = String::from_utf8_lossy(&bytes);
    assert!(text.contains("diagnose"), "its words were not found");
    for path in ["/registry/", "/.cargo", "/.rustup", "/src/"] {
        assert!(!text.contains(path), "{path} stands in it");
    }
}

/// What goes over the wire, packed as for publishing; the budget of the phone engine.
#[test]
fn the_shipped_engine_is_small() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("site/engine/bench.wasm");
    let bytes = std::fs::read(path).unwrap();
    let mut packed = Vec::new();
    let settings = brotli::enc::BrotliEncoderParams {
        quality: 11,
        ..Default::default()
    };
    brotli::BrotliCompress(&mut &bytes[..], &mut packed, &settings).unwrap();
    assert!(packed.len() <= 150_000, "{} bytes packed", packed.len());
}
