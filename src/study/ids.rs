//! Typed indices into the lists of a study, so that a round can never be taken for a section.

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(u32);

        impl $name {
            /// The id of a place in its list.
            pub fn new(index: usize) -> Self {
                Self(u32::try_from(index).unwrap_or(u32::MAX))
            }

            /// The place in its list.
            pub fn index(self) -> usize {
                self.0 as usize
            }
        }
    )*};
}

ids! {
    /// A gauge.
    GaugeId;
    /// A measure.
    MeasureId;
    /// A product.
    ProductId;
    /// A round.
    RoundId;
    /// A section.
    SectionId;
    /// A set of specimens beside the panel.
    SpecimensId;
    /// A site, by its map.
    SiteId;
    /// A supply.
    SupplyId;
}
