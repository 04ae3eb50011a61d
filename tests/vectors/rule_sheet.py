"""What the documents print, typed a second time, for rules that no question of a stage reaches by itself.

One line a rule: its id, how its number was read, and pieces of text that its words must hold. The numbers are typed
from the documents, apart from the rule files; `d` stands for days, months are 30 d and a year is 365 d. A rule without
a number (what to do, what never to do) has the word of its document that matters.
"""

# id | read, copy, derived, memory, common-practice | pieces, with ";" between them
PRINTED = """
australia.doneness.bird | read | at least 75 °C; 68 °C for 10 min
australia.doneness.ground | read | at least 75 °C; 68 °C for 10 min
australia.doneness.parts | read | at least 75 °C; 68 °C for 10 min
australia.hold.cold | read | at most 5 °C
australia.hold.hot | read | at least 60 °C
australia.reheat.temperature | read | at least 60 °C
australia.reheat.temperature.queensland | copy | above 70 °C; at least 2 min
australia.reheat.time | read | at most 2 h
australia.storage.refrigerator | read | at most 5 °C
australia.thaw.cold-water | read | running water
australia.thaw.container | read | bottom
canada.cool.stages | copy | from 60 °C to at most 20 °C in at most 2 h; from 20 °C to at most 4 °C in at most 4 h
canada.doneness.bird.2012 | copy | at least 85 °C
canada.doneness.bird.new-brunswick | read | at least 82 °C
canada.doneness.bird.ontario | read | at least 82 °C; at least 15 s
canada.doneness.ground | copy | at least 74 °C
canada.doneness.ground.ontario | read | at least 74 °C; at least 15 s
canada.doneness.parts | read | at least 74 °C
canada.doneness.parts.ontario | read | at least 74 °C; at least 15 s
canada.doneness.stuffing | copy | at least 74 °C
canada.hold.cold | read | at most 4 °C
canada.hold.cold.roasted-for-sale | read | at most 4.4 °C
canada.hold.hot | read | at least 60 °C
canada.hold.hot.roasted-for-sale | read | at least 60 °C
canada.hold.out | read | at most 2 h
canada.keep.cooked | copy | 3 d to 4 d in the refrigerator
canada.keep.cooked.freezer | copy | 120 d to 180 d in the freezer
canada.keep.cooked.older | copy | 2 d to 3 d in the refrigerator
canada.keep.gravy | copy | 3 d to 4 d in the refrigerator
canada.keep.gravy.freezer | copy | 120 d to 180 d in the freezer
canada.keep.gravy.freezer-ontario | copy | 60 d to 90 d in the freezer
canada.keep.gravy.ontario | copy | 1 d to 2 d in the refrigerator
canada.keep.soup | copy | 2 d to 3 d in the refrigerator
canada.keep.soup.freezer | copy | 120 d in the freezer
canada.people.at-risk | read | over 60
canada.prepare.hands | copy | at least 20 s
canada.prepare.sanitiser | read | 5 mL for each 750 mL
canada.prepare.wash | read | not
canada.reheat.temperature | copy | at least 74 °C
canada.reheat.temperature.waterloo | copy | at least 82 °C
canada.roast.oven | read | at least 165 °C
canada.roast.time-unstuffed | read | 45 min for each 1 kg
canada.roast.time-unstuffed.chatham-kent | read | 20 min for each 1 lb; at 325 °F
canada.storage.freezer | copy | at most -18 °C
canada.storage.ground | copy | 1 d to 2 d in the refrigerator
canada.storage.ground.freezer | copy | 60 d to 90 d in the freezer
canada.storage.raw | copy | 2 d to 3 d in the refrigerator
canada.storage.raw-parts | copy | 2 d to 3 d in the refrigerator
canada.storage.raw-parts.freezer | copy | 180 d in the freezer
canada.storage.raw.freezer | copy | 365 d in the freezer
canada.storage.refrigerator | copy | at most 4 °C
canada.thaw.cold-water | copy | 1 h for each 1 lb
canada.thaw.cold-water.quebec | read | 1 h for each 1 kg
canada.thaw.cold-water.waterloo | copy | 30 min for each 1 lb
canada.thaw.forbidden | read | room temperature
canada.thaw.keep-after-refrigerator | copy | 2 d in the refrigerator
canada.thaw.keep-after-water | read | at once
canada.thaw.refreeze | read | ice crystals
canada.thaw.refrigerator | copy | 5 h for each 1 lb
canada.thaw.refrigerator.british-columbia | read | 1 d for each 2.5 kg
canada.thaw.refrigerator.per-kilogram | read | 10 h for each 1 kg
canada.thaw.refrigerator.quebec | derived | 3 kg to 5 kg: 1 d to 2 d; 5 kg to 7 kg: 2 d to 3 d
canada.thaw.water-change | read | at most 30 min
canada.thaw.water-change.hourly | read | at most 1 h
kitchen-practice.brine.dry-amount | common-practice | 1 % to 1.5 %
kitchen-practice.brine.dry-limit | common-practice | at most 3 d
kitchen-practice.brine.dry-time | common-practice | 1 d to 3 d
kitchen-practice.brine.salted-bird | common-practice | kosher
kitchen-practice.brine.wet-strength | common-practice | 5 % to 8 %
kitchen-practice.doneness.breast-practice | common-practice | 160 °F
kitchen-practice.gravy.flour.medium | common-practice | 1.5 tbsp for each 1 cup
kitchen-practice.gravy.flour.thick | common-practice | 3 tbsp for each 1 cup
kitchen-practice.gravy.flour.thin | common-practice | 1 tbsp for each 1 cup
kitchen-practice.gravy.volume.generous | common-practice | 0.5 cup to
kitchen-practice.purchase.buffet | common-practice | 110 % to 120 %
kitchen-practice.purchase.mass | common-practice | 1 lb for each person
kitchen-practice.purchase.mass-plenty-left | common-practice | 1.5 lb to 2 lb for each person
kitchen-practice.purchase.mass-some-left | common-practice | 1.3 lb to 1.5 lb for each person
kitchen-practice.purchase.mass.boneless | common-practice | 0.5 lb for each person
kitchen-practice.purchase.mass.breast | common-practice | 0.75 lb for each person
kitchen-practice.purchase.mass.capon | common-practice | to 1 lb for each person
kitchen-practice.purchase.mass.chicken | common-practice | 0.8 lb to 1 lb for each person
kitchen-practice.purchase.mass.duck-goose | common-practice | 1 lb to 1.5 lb for each person
kitchen-practice.purchase.mass.small-hen | common-practice | 18 oz to 24 oz for each person
kitchen-practice.purchase.second-main | common-practice | 60 % to 75 %
kitchen-practice.roast.fan | common-practice | 25 °F lower
kitchen-practice.roast.fan.celsius | common-practice | 20 °C lower
kitchen-practice.roast.fan.time | common-practice | 25 %
kitchen-practice.roast.high-start | common-practice | 20 min to 30 min, at 450 °F
kitchen-practice.roast.high-start-rest | common-practice | min
kitchen-practice.roast.time-unstuffed | common-practice | lb
kitchen-practice.roast.time-unstuffed.hot-oven | common-practice | 10 lb to 14 lb: 1 h 20 min to 1 h 30 min, at 450 °F
kitchen-practice.storage.raw.freezer | common-practice | 365 d to 730 d in the freezer
kitchen-practice.thaw.in-brine | common-practice | brine
kitchen-practice.thaw.refrigerator | common-practice | 1 d to 7 d
new-zealand.cool.stages | memory | from 60 °C to at most 21 °C in at most 2 h; from 21 °C to at most 5 °C in at most 4 h
new-zealand.doneness.bird.2015 | read | at least 70 °C for at least 2 min; 65 °C for 10 min; 75 °C at once
new-zealand.doneness.ground | copy | at least 70 °C for at least 3 min; 65 °C for 15 min; 75 °C for 30 s
new-zealand.doneness.ground.2015 | read | at least 70 °C for at least 2 min; 65 °C for 10 min; 75 °C at once
new-zealand.doneness.parts | copy | at least 70 °C for at least 3 min; 65 °C for 15 min; 75 °C for 30 s
new-zealand.doneness.parts.2015 | read | at least 70 °C for at least 2 min; 65 °C for 10 min; 75 °C at once
new-zealand.hold.cold | memory | at most 5 °C
new-zealand.hold.hot | memory | at least 60 °C
new-zealand.keep.cooked | memory | 2 d in the refrigerator
new-zealand.prepare.wash | copy | not
new-zealand.reheat.temperature | memory | at least 75 °C
scotland.cool.start | memory | at most 1 h 30 min
scotland.doneness.bird | copy | at least 75 °C
scotland.doneness.ground | copy | at least 75 °C
scotland.doneness.parts | copy | at least 75 °C
scotland.hold.cold | read | refrigerator
scotland.keep.cooked | copy | 2 d in the refrigerator
scotland.thaw.keep-after-refrigerator | memory | 1 d in the refrigerator
scotland.thaw.refreeze | memory | raw
uk.cool.stages | copy | as quickly as possible
uk.cool.start | copy | at most 2 h
uk.cool.start.house-rule | memory | at most 1 h 30 min
uk.doneness.ground | copy | at least 70 °C for at least 2 min; 75 °C for 30 s
uk.doneness.stuffing | derived | at least 70 °C for at least 2 min; 75 °C for 30 s
uk.hold.cold.advice | copy | at most 5 °C
uk.keep.cooked | copy | 2 d in the refrigerator
uk.people.allergens | copy | celery
uk.prepare.separate | copy | bottom
uk.prepare.wash | read | not
uk.roast.time-unstuffed | read | pack
uk.roast.time-unstuffed.legacy-large | copy | 35 min for each 1 kg; 6.5 kg
uk.roast.time-unstuffed.legacy-medium | copy | 40 min for each 1 kg; from 4.5 kg to 6.5 kg
uk.roast.time-unstuffed.legacy-small | copy | 45 min for each 1 kg, plus 20 min
uk.storage.ground | copy | use-by
uk.storage.raw | copy | use-by
uk.storage.raw-parts | copy | use-by
uk.storage.refrigerator | copy | at most 5 °C
uk.storage.refrigerator.law | read | at most 8 °C
uk.thaw.cold-water | copy | running water
uk.thaw.container | copy | bottom; drip
uk.thaw.forbidden | copy | room temperature
uk.thaw.keep-after-refrigerator | copy | 1 d in the refrigerator
uk.thaw.refreeze | read | raw
uk.thaw.refrigerator | copy | 10 h to 12 h for each 1 kg
uk.thaw.refrigerator.cool-room | copy | 3 h to 4 h for each 1 kg; 17.5 °C
uk.thaw.refrigerator.room | copy | 2 h for each 1 kg; 20 °C
us-consumer.brine.dry-limit | read | at most 2 d
us-consumer.doneness.bird.breast-2003 | read | at least 170 °F
us-consumer.doneness.bird.thigh-2003 | read | at least 180 °F
us-consumer.doneness.ground | copy | at least 165 °F
us-consumer.doneness.parts | copy | at least 165 °F
us-consumer.doneness.probe.parts | copy | thickest part
us-consumer.doneness.signs.colour | memory | olour
us-consumer.gravy.drippings | memory | 5.75 % to 8 %
us-consumer.gravy.rendered-fat.chicken | derived | 4 %
us-consumer.gravy.rendered-fat.duck | derived | 14 %
us-consumer.gravy.rendered-fat.goose | derived | 15 %
us-consumer.gravy.rendered-fat.turkey | memory | 1 % to 2 %
us-consumer.grill.time.chicken | copy | 3 lb to 4 lb: 1 h to 1 h 15 min
us-consumer.people.at-risk | read | pregnant; unborn; under 5; 65; immun; cancer; diabetes; HIV; transplant; autoimmune
us-consumer.purchase.yield.capon | derived | 43.2 %
us-consumer.purchase.yield.chicken | derived | 32.2 % to 39.2 %
us-consumer.purchase.yield.duck | derived | 22 % to 38.1 %
us-consumer.purchase.yield.goose | derived | 41.4 %
us-consumer.purchase.yield.solution-added | derived | 39.9 % to 46.4 %
us-consumer.purchase.yield.turkey-boneless | copy | 75 %
us-consumer.purchase.yield.turkey-breast | copy | 62 %
us-consumer.purchase.yield.turkey-drumstick | copy | 47 %
us-consumer.purchase.yield.turkey-leg | copy | 49 %
us-consumer.purchase.yield.turkey-thigh | copy | 53 %
us-consumer.purchase.yield.turkey-wing | copy | 43 %
us-consumer.roast.bag | read | paper
us-consumer.roast.overnight | read | overnight
us-consumer.roast.time-stuffed.1993 | read | 18 min to 24 min for each 1 lb
us-consumer.roast.time-stuffed.breast | copy | 6 lb to 8 lb: 2 h 30 min to 3 h 30 min
us-consumer.roast.time-stuffed.capon | derived | 4 lb to 8 lb: 2 h 15 min to 3 h 30 min
us-consumer.roast.time-stuffed.chicken | derived | 3 lb to 4 lb: 1 h 30 min to 2 h; 5 lb to 7 lb: 2 h 15 min to 2 h 45 min
us-consumer.roast.time-stuffed.small-hen | derived | 18 oz to 24 oz: 1 h 5 min to 1 h 30 min
us-consumer.roast.time-unstuffed.1993 | read | 15 min to 18 min for each 1 lb
us-consumer.roast.time-unstuffed.goose-parts | copy | 2 h, at 325 °F
us-consumer.serve.stuffing-out | copy | 20 min
us-consumer.storage.giblets | copy | 1 d to 2 d in the refrigerator
us-consumer.storage.giblets.freezer | copy | 90 d to 120 d in the freezer
us-consumer.storage.ground | copy | 1 d to 2 d in the refrigerator
us-consumer.storage.ground.freezer | copy | 90 d to 120 d in the freezer
us-consumer.storage.power-failure.dry-ice | copy | Fifty pounds; 18 cubic feet; 2 days
us-consumer.storage.raw | copy | 1 d to 2 d in the refrigerator
us-consumer.storage.raw-parts | copy | 1 d to 2 d in the refrigerator
us-consumer.storage.raw-parts.duck-goose | copy | 1 d to 2 d in the refrigerator
us-consumer.storage.raw-parts.duck-goose-freezer | copy | 180 d in the freezer
us-consumer.storage.raw-parts.freezer | copy | 270 d in the freezer
us-consumer.storage.raw.duck-goose | copy | 1 d to 2 d in the refrigerator
us-consumer.storage.raw.duck-goose-freezer | copy | 180 d in the freezer
us-consumer.storage.raw.freezer | copy | 365 d in the freezer
us-consumer.thaw.cold-water.chicken | copy | 3 lb to 4 lb: 2 h to 3 h
us-consumer.thaw.cold-water.chicken-boneless | copy | 1 lb: ; 1 h
us-consumer.thaw.cold-water.chicken-parts | copy | 2 h to 3 h
us-consumer.thaw.cold-water.duck | copy | 3 lb to 4 lb: 2 h to 3 h
us-consumer.thaw.cold-water.goose | copy | 4 h to 6 h
us-consumer.thaw.cold-water.per-mass | copy | 30 min for each 1 lb
us-consumer.thaw.forbidden | copy | counter; porch; car; garage; hot water; dryer
us-consumer.thaw.forbidden.time | read | at most 2 h
us-consumer.thaw.from-frozen.chart | copy | 8 lb to 12 lb: 4 h to 4 h 30 min; 12 lb to 14 lb: 4 h 30 min to 5 h 45 min; 14 lb to 18 lb: 5 h 45 min to 6 h 15 min; 18 lb to 20 lb: 6 h 15 min to 6 h 45 min; 20 lb to 24 lb: 6 h 45 min to 7 h 30 min
us-consumer.thaw.from-frozen.giblets | read | tongs
us-consumer.thaw.from-frozen.methods | copy | smoker
us-consumer.thaw.in-brine | read | Thaw
us-consumer.thaw.microwave | copy | at once
us-consumer.thaw.refreeze | copy | refrigerator may be frozen again; microwave; only after cooking
us-consumer.thaw.refrigerator.chicken | copy | 3 lb to 4 lb: 1 d to 2 d
us-consumer.thaw.refrigerator.chicken-boneless | copy | vernight
us-consumer.thaw.refrigerator.chicken-parts | copy | 1 d to 2 d
us-consumer.thaw.refrigerator.duck | copy | 3 lb to 4 lb: 1 d to 2 d
us-consumer.thaw.refrigerator.duck-parts | copy | 1 d
us-consumer.thaw.refrigerator.goose | copy | 1 d to 2 d
us-consumer.thaw.refrigerator.older | copy | 8 lb to 12 lb: 1 d to 2 d; 12 lb to 16 lb: 2 d to 3 d; 16 lb to 20 lb: 3 d to 4 d; 20 lb to 24 lb: 4 d to 5 d
us-consumer.thaw.refrigerator.per-mass | copy | 1 d for each 4 lb
us-consumer.thaw.refrigerator.per-mass.quick | copy | 1 d for each 5 lb
us-food-code-2022.cool.depth | read | at most 2 in deep
us-food-code-2022.cool.depth.maryland | read | at most 3 in deep
us-food-code-2022.cool.depth.pieces | read | at most 4 in deep
us-food-code-2022.cool.depth.thin-liquid | read | at most 4 in deep
us-food-code-2022.cool.stages.ambient | read | at most 4 h
us-food-code-2022.doneness.bird.2013 | read | at least 165 °F; at least 15 s
us-food-code-2022.doneness.bird.microwave | read | at least 165 °F (74 °C)
us-food-code-2022.doneness.ground | read | at least 165 °F
us-food-code-2022.doneness.ground.2013 | read | at least 165 °F; at least 15 s
us-food-code-2022.doneness.parts | read | at least 165 °F
us-food-code-2022.doneness.parts.2013 | read | at least 165 °F; at least 15 s
us-food-code-2022.doneness.stuffing | read | at least 165 °F
us-food-code-2022.doneness.stuffing.2013 | read | at least 165 °F; at least 15 s
us-food-code-2022.hold.time-control-cold.four-hours | read | from at most 41 °F; at most 4 h
us-food-code-2022.prepare.part-cook | read | written
us-food-code-2022.prepare.part-cook.first-heating | read | at most 1 h
us-food-code-2022.reheat.temperature.immediate | read | any temperature
us-food-code-2022.reheat.temperature.microwave | read | at least 165 °F (74 °C)
us-food-code-2022.reheat.temperature.packaged | read | at least 135 °F
us-food-code-2022.storage.refrigerator | read | at most 41 °F
us-food-code-2022.thaw.forbidden | read | under refrigeration at 41 °F or below; running water; microwave; part of cooking
us-food-code-2022.thaw.microwave | read | no break
us-food-code-2022.thaw.running-water | read | at most 4 h
us-processor.cool.stages | copy | from 130 °F to at most 80 °F in at most 1 h 30 min; from 80 °F to at most 40 °F in at most 5 h
us-processor.cool.stages.cured | copy | from 130 °F to at most 80 °F in at most 5 h; from 80 °F to at most 40 °F in at most 10 h
us-processor.cool.stages.cured-45 | memory | from 130 °F to at most 80 °F in at most 5 h; from 80 °F to at most 45 °F in at most 10 h
us-processor.cool.stages.option-2 | copy | from 120 °F to at most 80 °F in at most 1 h; to at most 55 °F in at most 6 h
us-processor.cool.stages.performance | read | botulinum
us-processor.cool.start | copy | at most 1 h 30 min
us-processor.doneness.bird.chicken | copy | 136 °F for 1 h 22 min; 165 °F at once
us-processor.doneness.ground | copy | 136 °F for 1 h 11 min; 165 °F at once
us-processor.doneness.ground.chicken | copy | 136 °F for 1 h 22 min; 165 °F at once
us-processor.doneness.parts | copy | 136 °F for 1 h 11 min; 165 °F at once
us-processor.doneness.parts.chicken | copy | 136 °F for 1 h 22 min; 165 °F at once
"""




def sheet():
    for line in PRINTED.strip().splitlines():
        rule, status, pieces = (part.strip() for part in line.split(" | "))
        standard = rule.split(".")[0]
        entry = {
            "id": f"rule.{rule}",
            "why": "the words of the rule hold what its document prints",
            "source": f"the document that the rule cites ({status})",
            "request": {"kind": "rules", "id": rule},
            "expect": {
                "/answer/rows/0/id": rule,
                "/answer/rows/0/standard": standard,
                "/answer/rows/0/status": status,
            },
            "contains": {"/answer/rows/0/limit": [piece.strip() for piece in pieces.split(";")]},
        }
        yield entry
