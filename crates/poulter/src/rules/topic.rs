//! The questions that rules answer, in the order a cook meets them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

macro_rules! topics {
    ($( $stage:ident { $( $topic:ident $name:literal $question:literal ),+ $(,)? } )+) => {
        /// The stages of the job, in the order a cook meets them.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
        #[serde(rename_all = "kebab-case")]
        pub enum Stage {
            $(
                #[doc = concat!("The ", stringify!($stage), " stage.")]
                $stage,
            )+
        }

        /// A question that rules answer.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
        pub enum Topic {
            $($(
                #[doc = $question]
                #[serde(rename = $name)]
                $topic,
            )+)+
        }

        impl Stage {
            /// Every stage in order.
            pub const ALL: &'static [Self] = &[$(Self::$stage),+];
        }

        impl Topic {
            /// Every topic in order.
            pub const ALL: &'static [Self] = &[$($(Self::$topic),+),+];

            /// The stage the topic belongs to.
            #[must_use]
            pub const fn stage(self) -> Stage {
                match self { $($( Self::$topic => Stage::$stage, )+)+ }
            }

            /// The name in rule files and ids.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $($( Self::$topic => $name, )+)+ }
            }

            /// The question in words.
            #[must_use]
            pub const fn question(self) -> &'static str {
                match self { $($( Self::$topic => $question, )+)+ }
            }
        }
    };
}

topics! {
    Purchase {
        PurchaseMass "purchase.mass" "How much raw bird for a person, nothing left over?",
        PurchaseMassSomeLeft "purchase.mass-some-left" "How much raw bird for a person, with leftovers?",
        PurchaseMassPlentyLeft "purchase.mass-plenty-left" "How much raw bird for a person, with plenty left?",
        PurchaseBuffet "purchase.buffet" "How much more where guests help themselves?",
        PurchaseSecondMain "purchase.second-main" "How much of each of two mains?",
        PurchaseYield "purchase.yield" "What share of the raw bird is cooked meat on the plate?",
        PurchaseFreshWindow "purchase.fresh-window" "How long before cooking may a fresh bird be bought?",
        PurchaseStuffedBird "purchase.stuffed-bird" "May a bird be bought stuffed?",
    }
    Storage {
        StorageRaw "storage.raw" "How long does the raw bird keep?",
        StorageRawParts "storage.raw-parts" "How long do raw parts keep?",
        StorageGround "storage.ground" "How long does raw ground poultry keep?",
        StorageGiblets "storage.giblets" "How long do raw giblets keep?",
        StorageRefrigerator "storage.refrigerator" "How cold must the refrigerator be?",
        StorageFreezer "storage.freezer" "How cold must the freezer be?",
        StorageLabelFresh "storage.label-fresh" "When may a bird be called fresh?",
        StorageLabelFrozen "storage.label-frozen" "When must a bird be called frozen?",
        StoragePowerFailure "storage.power-failure" "How long does cold last without power?",
        StorageSenses "storage.senses" "What if the bird smells or feels wrong?",
    }
    Thaw {
        ThawRefrigerator "thaw.refrigerator" "How long does thawing in the refrigerator take?",
        ThawColdWater "thaw.cold-water" "How long does thawing in cold water take?",
        ThawWaterChange "thaw.water-change" "How often is the thawing water changed?",
        ThawWaterTemperature "thaw.water-temperature" "How warm may thawing water be?",
        ThawRunningWater "thaw.running-water" "How long may a bird lie in running water above the cold limit?",
        ThawMicrowave "thaw.microwave" "What goes for thawing in a microwave oven?",
        ThawInBrine "thaw.in-brine" "May a bird thaw in its brine?",
        ThawFromFrozen "thaw.from-frozen" "How much longer does a bird cooked from frozen take?",
        ThawForbidden "thaw.forbidden" "Where must a bird never thaw?",
        ThawKeepAfterRefrigerator "thaw.keep-after-refrigerator" "How long may a refrigerator-thawed bird wait?",
        ThawKeepAfterWater "thaw.keep-after-water" "What follows thawing in water or a microwave oven?",
        ThawRefreeze "thaw.refreeze" "May a thawed bird be frozen again?",
        ThawContainer "thaw.container" "What goes under or round the thawing bird?",
    }
    Brine {
        BrineWetStrength "brine.wet-strength" "How much salt for a wet brine?",
        BrineWetTime "brine.wet-time" "How long is a wet brine left?",
        BrineWetLimit "brine.wet-limit" "What is the longest wet brine?",
        BrineDryAmount "brine.dry-amount" "How much salt for a dry brine?",
        BrineDryTime "brine.dry-time" "How long is a dry brine left?",
        BrineDryLimit "brine.dry-limit" "What is the longest dry brine?",
        BrineTemperature "brine.temperature" "How cold must a brine stay?",
        BrineVolume "brine.volume" "How much brine for a bird?",
        BrineVessel "brine.vessel" "What vessel holds a brine?",
        BrineRinse "brine.rinse" "Is the bird rinsed after brining?",
        BrineSaltedBird "brine.salted-bird" "May a bird that already holds salt be brined?",
        BrineReuse "brine.reuse" "May a brine be used again?",
    }
    Prepare {
        PrepareWash "prepare.wash" "Is raw poultry washed?",
        PrepareHands "prepare.hands" "How are hands washed?",
        PrepareSanitiser "prepare.sanitiser" "How are surfaces sanitised?",
        PrepareGiblets "prepare.giblets" "What becomes of giblets and neck?",
        PrepareSeparate "prepare.separate" "How are raw and cooked kept apart?",
        PrepareStuffing "prepare.stuffing" "When and how is a bird stuffed?",
        PrepareStuffingAmount "prepare.stuffing-amount" "How much stuffing for a bird?",
        PreparePartCook "prepare.part-cook" "May a bird be part-cooked and finished later?",
        PrepareDrySkin "prepare.dry-skin" "How is the skin dried?",
        PrepareFat "prepare.fat" "How much fat and seasoning?",
    }
    Roast {
        RoastTimeUnstuffed "roast.time-unstuffed" "How long does an unstuffed bird roast?",
        RoastTimeStuffed "roast.time-stuffed" "How long does a stuffed bird roast?",
        RoastOven "roast.oven" "How hot must the oven be?",
        RoastHighStart "roast.high-start" "How long is a high-heat start?",
        RoastHighStartRest "roast.high-start-rest" "How long does the bird need after a high-heat start?",
        RoastFan "roast.fan" "What changes in a fan oven?",
        RoastAltitude "roast.altitude" "What changes at altitude?",
        RoastOvernight "roast.overnight" "May a bird roast overnight in a low oven?",
        RoastBag "roast.bag" "May a bird roast in a paper bag?",
        RoastPan "roast.pan" "What pan and where in the oven?",
        RoastTent "roast.tent" "Is the bird covered with foil?",
        GrillTime "grill.time" "How long on a covered grill?",
        SmokeTime "smoke.time" "How long in a smoker?",
        FryTime "fry.time" "How long in hot oil?",
        FryMass "fry.mass" "How heavy a bird may be fried?",
        MicrowaveTime "microwave.time" "How long in a microwave oven?",
        RoasterOvenTime "roaster-oven.time" "How long in an electric roaster oven?",
        SimmerTime "simmer.time" "How long at a simmer?",
        CookCut "cook.cut" "May this cut be cooked this way?",
        CookStuffed "cook.stuffed" "May a stuffed bird be cooked this way?",
        CookFrozen "cook.frozen" "May a bird be cooked this way from frozen?",
        SlowCooker "slow-cooker" "What goes for a slow cooker?",
    }
    Doneness {
        DonenessBird "doneness.bird" "How hot must the bird be inside?",
        DonenessParts "doneness.parts" "How hot must parts be inside?",
        DonenessGround "doneness.ground" "How hot must ground poultry be inside?",
        DonenessStuffing "doneness.stuffing" "How hot must the stuffing be?",
        DonenessBreastPractice "doneness.breast-practice" "When do cooks pull the breast?",
        DonenessProbe "doneness.probe" "Where does the thermometer go?",
        DonenessSigns "doneness.signs" "What is colour or a pop-up timer worth?",
    }
    Serve {
        ServeRest "serve.rest" "How long does the bird rest?",
        ServeCarve "serve.carve" "How long does carving take?",
        ServeStuffingOut "serve.stuffing-out" "When does the stuffing come out?",
        HoldHot "hold.hot" "How hot must food be held?",
        HoldHotTime "hold.hot-time" "How long may food be held hot?",
        HoldCold "hold.cold" "How cold must food be held?",
        HoldOut "hold.out" "How long may food stand out?",
        HoldOutHotDay "hold.out-hot-day" "How long may food stand out on a hot day?",
        HoldTimeControl "hold.time-control" "When may time stand in for temperature?",
        HoldTimeControlCold "hold.time-control-cold" "When may time stand in for temperature, from cold?",
    }
    Gravy {
        GravyVolume "gravy.volume" "How much gravy for a person?",
        GravyRoux "gravy.roux" "What ratio of fat to flour?",
        GravyFlour "gravy.flour" "How much flour for a volume of gravy?",
        GravyBoil "gravy.boil" "How is the flour cooked out, and gravy reheated?",
        GravyDrippings "gravy.drippings" "What share of the raw bird drips into the pan?",
        GravyRenderedFat "gravy.rendered-fat" "What share of the raw bird is fat that renders?",
        StockWater "stock.water" "How much water for the bones?",
        StockTime "stock.time" "How long does stock simmer?",
        StockYield "stock.yield" "How much stock comes of the water put in?",
    }
    Leftovers {
        CoolStages "cool.stages" "How fast must cooked food cool?",
        CoolStart "cool.start" "How soon must leftovers be chilled?",
        CoolDepth "cool.depth" "How deep may cooling food lie?",
        CoolWhole "cool.whole" "May a whole bird be cooled?",
        KeepCooked "keep.cooked" "How long does cooked poultry keep?",
        KeepStuffing "keep.stuffing" "How long does cooked stuffing keep?",
        KeepGravy "keep.gravy" "How long do gravy and stock keep?",
        KeepSoup "keep.soup" "How long does soup keep?",
        KeepDateMark "keep.date-mark" "How long may ready-to-eat food keep under date marking?",
        Reheat "reheat.temperature" "How hot must leftovers be reheated?",
        ReheatTime "reheat.time" "How fast must food be reheated?",
        ReheatWhole "reheat.whole" "May a whole bird be reheated?",
        ReheatGravy "reheat.gravy" "How is gravy reheated?",
    }
    People {
        PeopleAtRisk "people.at-risk" "Who is at greater risk?",
        PeopleAllergens "people.allergens" "Which allergens must be named?",
        FryHazard "fry.hazard" "What are the dangers of hot oil?",
    }
}
