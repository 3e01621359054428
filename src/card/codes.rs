//! Trouble codes as SAE J2012 (ISO 15031-6) forms them: their shape, and what letter and digits say.
//!
//! In: a code. Out: whether it is one, and who says what it means. The meanings of single codes are data:
//! `content/codes.yaml`.

/// One of P, C, B, U, a digit 0 to 3, three hexadecimal digits, in capital letters.
pub fn is_code(text: &str) -> bool {
    let hexadecimal = |byte: &u8| byte.is_ascii_digit() || (b'A'..=b'F').contains(byte);
    match text.as_bytes() {
        [system, kind, digits @ ..] => {
            b"PCBU".contains(system)
                && (b'0'..=b'3').contains(kind)
                && digits.len() == 3
                && digits.iter().all(hexadecimal)
        }
        _ => false,
    }
}

/// What the first letter stands for, with its article.
pub fn code_system(code: &str) -> &'static str {
    match code.chars().next() {
        Some('P') => "A powertrain code",
        Some('C') => "A chassis code",
        Some('B') => "A body code",
        Some('U') => "A network and communication code",
        _ => "A code of unknown system",
    }
}

/// What can be said of any code: its system, and who defines it.
pub fn code_about(code: &str) -> String {
    format!("{}. {}", code_system(code), code_defined_by(code))
}

/// Who defines the code, by its first two digits.
pub fn code_defined_by(code: &str) -> &'static str {
    const STANDARD: &str = "Its meaning is the same on every make: SAE J2012 defines it.";
    const MAKER: &str =
        "Each maker defines its own meaning: look it up in the maker's service information.";
    let digits: Vec<char> = code.chars().skip(1).take(2).collect();
    let powertrain = code.starts_with('P');
    match digits.as_slice() {
        ['0', _] => STANDARD,
        ['2', _] if powertrain => STANDARD,
        ['3', '4'..='9'] => STANDARD,
        ['3', _] if !powertrain => STANDARD,
        _ => MAKER,
    }
}
