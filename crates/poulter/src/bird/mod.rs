//! The bird: species, cut, state and the places a thermometer goes.

mod composition;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use composition::Composition;

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $( $variant:ident $word:literal $says:literal ),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
        pub enum $name {
            $( #[doc = $says] #[serde(rename = $word)] $variant, )+
        }

        impl $name {
            /// Every one, in order.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The word on the wire and in rule files.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $( Self::$variant => $word, )+ }
            }

            /// A few words for people.
            #[must_use]
            pub const fn says(self) -> &'static str {
                match self { $( Self::$variant => $says, )+ }
            }
        }
    };
}

words! {
    /// A kind of bird.
    Species {
        Turkey "turkey" "Turkey",
        Chicken "chicken" "Chicken: broiler, fryer or roaster",
        Capon "capon" "Capon",
        SmallHen "small-hen" "A hen of up to 2 lb, one to a person",
        Duck "duck" "Duck or duckling",
        Goose "goose" "Goose",
        GuineaFowl "guinea-fowl" "Guinea fowl",
        Pheasant "pheasant" "Pheasant",
        Quail "quail" "Quail",
    }
}

words! {
    /// How the bird is cut.
    Cut {
        Whole "whole" "A whole bird",
        Flattened "flattened" "A whole bird with the backbone out, pressed flat",
        Breast "breast" "A breast or crown, on the bone",
        BonelessBreast "boneless-breast" "A breast without bone",
        Leg "leg" "A leg: thigh and drumstick",
        Thigh "thigh" "A thigh",
        Drumstick "drumstick" "A drumstick",
        Wing "wing" "A wing",
        Parts "parts" "Mixed parts",
        Ground "ground" "Ground meat",
    }
}

impl Cut {
    /// Whether it is a bird with its carcass, not a piece of one.
    pub(crate) const fn is_bird(self) -> bool {
        matches!(self, Self::Whole | Self::Flattened)
    }

    /// Whether bones are left of it.
    pub(crate) const fn has_bones(self) -> bool {
        !matches!(self, Self::BonelessBreast | Self::Ground)
    }
}

words! {
    /// The state in which the bird comes.
    State {
        Fresh "fresh" "Never frozen",
        Frozen "frozen" "Hard frozen",
        PartFrozen "part-frozen" "Part way through thawing",
        Thawed "thawed" "Thawed",
    }
}

words! {
    /// Where a thermometer goes.
    Place {
        Breast "breast" "The thickest part of the breast",
        Thigh "thigh" "The innermost part of the thigh",
        Wing "wing" "The innermost part of the wing",
        Stuffing "stuffing" "The centre of the stuffing",
        Thickest "thickest" "The thickest part of a piece",
        Core "core" "The centre of a dish, pan or container",
    }
}
