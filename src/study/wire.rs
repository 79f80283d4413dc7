//! Conductors and fuses: the laws and tables a wire is chosen by. They know no plan.
//!
//! The American rules for small craft (33 CFR 183 Subpart I) bind only boats with petrol engines other than
//! outboards; here they are good practice, never "required by law".

pub mod ampacity;
pub mod copper;
pub mod drop;
pub mod fuse;
pub mod gauge;
