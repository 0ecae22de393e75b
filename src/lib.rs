
pub mod measure;
