//! The preview: a loopback server that publishes again when the deck changes.
