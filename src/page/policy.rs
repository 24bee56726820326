//! The security policy of a page: nothing runs and nothing is styled but what is in it.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};

/// The Content Security Policy (W3C CSP Level 3) of a page with this one style and, if any, this
/// one script: each is let in by its hash, everything else is shut out, all network included.
pub(super) fn content_security_policy(style: &str, script: Option<&str>) -> String {
    let script = script.map_or_else(|| "'none'".to_owned(), hash);
    format!(
        "default-src 'none'; script-src {script}; style-src {}; base-uri 'none'; form-action 'none'",
        hash(style)
    )
}

/// A source expression that lets in an element of this content.
fn hash(content: &str) -> String {
    format!("'sha256-{}'", STANDARD.encode(Sha256::digest(content)))
}
