//! What is known of the bird itself.

mod composition;

pub use composition::Composition;
