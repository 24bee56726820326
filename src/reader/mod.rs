//! YAML with places, read into values; everything wrong is told at its line and column.

pub(crate) mod bounds;
pub(crate) mod decode;
pub mod diagnostic;
pub(crate) mod source;
pub(crate) mod suggestion;
pub(crate) mod syntax;
pub(crate) mod tree;
