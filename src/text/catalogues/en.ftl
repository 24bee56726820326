# English. Every language has a file like this one, with the same keys and placeholders
# (Project Fluent's syntax); a new file here is a new language.

language-code = en
language-own-name = English
language-english-name = English

## Dates and lists

# $weekday: 1 is Monday.
weekday-short = { $weekday ->
    [1] Mon
    [2] Tue
    [3] Wed
    [4] Thu
    [5] Fri
    [6] Sat
   *[7] Sun
}
weekday-long = { $weekday ->
    [1] Monday
    [2] Tuesday
    [3] Wednesday
    [4] Thursday
    [5] Friday
    [6] Saturday
   *[7] Sunday
}
month-short = { $month ->
    [1] Jan
    [2] Feb
    [3] Mar
    [4] Apr
    [5] May
    [6] Jun
    [7] Jul
    [8] Aug
    [9] Sep
    [10] Oct
    [11] Nov
   *[12] Dec
}
month-long = { $month ->
    [1] January
    [2] February
    [3] March
    [4] April
    [5] May
    [6] June
    [7] July
    [8] August
    [9] September
    [10] October
    [11] November
   *[12] December
}
# $weekday and $month are words here: short weekday, long month.
date = { $weekday } { $day } { $month }
date-with-year = { $weekday } { $day } { $month } { $year }
# Long weekday, long month.
date-long = { $weekday } { $day } { $month } { $year }
# A day without its weekday and year.
day-and-month = { $day } { $month }

# The last joint of a list; the others are commas.
list-and = { $most } and { $last }
# A list cut short.
list-more = { $most } and { $n } more

## The calendar

calendar-name-of-kind = { $garden }: { $kind }
calendar-cancelled = Cancelled: { $summary }

## Kinds of chore

kind-seed-order = Seed order
kind-leak-test = Leak test
kind-harvest = Harvest
kind-clear = Clear
kind-deep-clean = Deep clean
kind-solution = Nutrient change
kind-top-up = Top up
kind-transplant = Transplant
kind-sow = Sow
kind-check = Check
kind-swap = Crop changeover

## Holes and tubes

count-holes = { $n ->
    [one] { $n } hole
   *[other] { $n } holes
}
tubes = { $n ->
    [one] tube { $names }
   *[other] tubes { $names }
}
tubes-summed = { $n ->
    [0] { $tubes }
    [one] { $tubes } and { $n } more tube
   *[other] { $tubes } and { $n } more tubes
}; see the sheet
more-on-the-sheet = and { $n } more, see the sheet

## Seed order

seed-order = Buy seed:
seed-order-starts = Buy seed and plug plants:
# So many seeds, cuttings or plugs, by $kind.
count-starts = { $kind ->
    [cutting] { $n ->
        [one] { $n } cutting
       *[other] { $n } cuttings
    }
    [plug] { $n ->
        [one] { $n } plug
       *[other] { $n } plugs
    }
   *[seed] { $n ->
        [one] { $n } seed
       *[other] { $n } seeds
    }
}
# $seeds: as count-starts tells it.
seed-needed = { $crop }: { $seeds } ({ $sowings ->
    [one] { $sowings } sowing
   *[other] { $sowings } sowings
} until { $until })
seed-needed-keeps = { $crop }: { $seeds } ({ $sowings ->
    [one] { $sowings } sowing
   *[other] { $sowings } sowings
} until { $until }; keeps about { $years ->
    [one] { $years } year
   *[other] { $years } years
})
starts-needed = { $crop }: { $seeds } in all ({ $sowings ->
    [one] on { $sowings } day
   *[other] on { $sowings } days
} until { $until }). { $kind ->
    [cutting] They don't keep: have a healthy plant from which to take them each time.
   *[plug] They don't keep: order each batch for its day. Rooted runners do as well.
}
seed-hint = The numbers allow for seed that fails. Keep packets cool, dark and dry; old seed germinates poorly.

## Leak test

leak-test = Leak test: run the rig on plain water
leak-test-loop = { $loop }: fill with plain water. The tank holds { $holds }, which weighs { $weight }.
leak-test-hint-run = Let the pump run for a day or two, before the first planting on { $date }.
leak-test-hint-look = Feel every joint, inlet and drain for drips, see that each tube gets its share, and that the level in the tank stays. Mend, and run it again.
leak-test-hint-mains = Careful, mains near water: plugs and sockets above the water and away from splashes, on residual-current protection; unplug before hands go in. Local rules and a licensed electrician have the last word.
leak-test-hint-weight = Careful, weight: before you fill a rig on a wall, roof or balcony, have somebody qualified say that it bears it.
leak-test-hint-cover = Keep the tank covered: children and animals drown in little water.

## Harvest

harvest = Harvest
harvest-line = { $amount }: { $crop }, { $manner }, from { $holes }
harvest-line-about = about { $amount }: { $crop }, { $manner }, from { $holes }
manner-whole = whole plants
manner-a-cut = a cut
manner-cut = { $n ->
    [1] first cut
    [2] second cut
    [3] third cut
   *[other] cut number { $n }
}
manner-last-cut = final cut, then pull the plants
manner-picking = a picking
manner-last-picking = final picking, then pull the plants
manner-taken = what is ripe
# Grams, ounces and the like of a want.
amount-of = { $amount } { $want }
# Heads of a want; $heads is the number as written.
heads-of = { $n ->
    [one] { $heads } head of { $want }
   *[other] { $heads } heads of { $want }
}
# Where a want is called so already ("salad heads"), the word is not said twice.
heads-word = heads
heads-word-one = head
harvest-hint = Clean hands, clean knife. Keep the nutrient solution off what you eat, and rinse leaves and fruit in drinking water.

## Clear

clear = Clear and wipe { $holes }
clear-scrubbed = Pull net cups and roots; the tube is scrubbed today: { $holes }
clear-planted-again = Pull net cups and roots, wipe; replanted today: { $holes }
clear-left-empty = Pull net cups and roots, wipe, and cover the holes (light grows algae): { $holes }
clear-seed = First cut the ripe seed heads of { $plants } left to flower, and dry them in a paper bag with the crop's name on it: { $holes }

## Deep clean

deep-clean = Deep-clean { $tubes }
deep-clean-line = { $n ->
    [one] Tube { $names } stands empty today.
   *[other] Tubes { $names } stand empty today.
}
deep-clean-hint-shut = Unplug the pump at the wall. Shut the tube's inlet and lead its drain into a bucket: no cleaning water may reach the tank or other plants.
deep-clean-hint-brush = Brush out all roots and slime with warm water first; disinfectant does not get through slime.
deep-clean-hint-disinfect = Then disinfect hard surfaces as the product's label says; for household bleach, 1 part to 9 parts of water, left wet for 30 minutes, is usual.
deep-clean-hint-rinse = Rinse with plain water until nothing smells of it. Then open the inlet, and plug the pump in again with dry hands.
deep-clean-hint-solution = There is a nutrient change today too: scrub first, then fill.
deep-clean-hint-gas = Careful: never mix bleach with acid, vinegar, ammonia or peroxide, which makes poisonous gas. Gloves, goggles, open windows, children away. Product labels and local rules take precedence.

## Solution

solution-first = Fill with nutrient solution:
solution-change = Nutrient change:
solution-line-first = { $loop }: fill with { $holds }
solution-line-change = { $loop }: drain the tank, refill with { $holds }
solution-line-tubes = { $loop }: drain tank and tubes, refill with { $holds }
solution-tubes-too = { $loop }: the tubes hold more than the tank, so a change in the tank alone would do little
solution-mixes = { $loop }: about { $litres } of the old solution stay in the tubes; mix the new at EC { $ec }, and together they reach the target
solution-empty = Drain:
solution-empty-until = { $loop }: nothing stands here until { $date }. Unplug the pump, drain tank and tubes ({ $litres }), and wipe them dry; warm old solution breeds what rots roots.
solution-empty-line = { $loop }: nothing follows here for weeks. Unplug the pump, drain tank and tubes ({ $litres }), and wipe them dry; warm old solution breeds what rots roots.
solution-in-tubes = { $loop }: the tubes take about { $litres } of that when the pump starts; then fill up the tank again
solution-aim = { $fill }; aim at EC { $ec } and pH { $ph }
solution-stock = { $loop }: about { $stock } of stock, { $each } { $per ->
    [gallon] a gallon
   *[litre] a litre
}; then measure
solution-by-volume = { $loop }: sooner than usual, as the top-ups since the last change add up to a whole tank
solution-hint-stir = Stir one nutrient at a time into the full tank, never concentrates into each other; EC first, pH last, and measure again after an hour.
solution-hint-carry = Water is heavy: carry it in small cans. Old solution may feed garden soil where local rules allow, never a drain to a stream.
solution-hint-acid = Careful: unplug the pump at the wall before hands go into the water. Acid into water, never water into acid; gloves and goggles; acids and salts out of children's reach. Product labels take precedence.

## Top up

top-up = Top up
top-up-loop = { $loop } with { $litres }
top-up-line-water = { $loop }: about { $litres } of plain water, { $until }; then check EC and pH
top-up-line-half = { $loop }: about { $litres } of solution of half strength, { $until }; then check EC and pH
top-up-line-half-stock = { $loop }: about { $litres } of solution of half strength ({ $stock } of stock in it), { $until }; then check EC and pH
top-up-until-full = to the full mark
top-up-until-change = no more (a nutrient change is due soon)
top-up-hint = Plants drink more in heat and wind than in an average year: go by the level. Let cold tap water stand until it is as warm as the tank.
top-up-hint-lid = Put the lid back on: children and animals drown in little water.
top-up-hint-open = Careful, an open tank: children and animals drown in little water, and light makes algae grow. Lay a lid or boards over it.

## Transplant

transplant = Transplant
number-of-crop = { $n } { $crop }
transplant-line-sown = { $plants }, { $kind ->
    [seed] sown
   *[other] started
} on { $date }, into { $holes }
transplant-line-on-hand = { $plants }, from the seedlings on hand, into { $holes }
transplant-line-on-hand-sown = { $plants }, from the seedlings on hand { $kind ->
    [seed] sown
   *[other] started
} on { $date }, into { $holes }
transplant-line-for-seed = { $plants }, sown on { $date }, into { $holes } (left to flower for its seed: do not harvest it)
transplant-hint-spares = Keep the spares in the nursery in case one fails in its first days; eat or compost them when you need the room.
transplant-hint = Set each net cup so that roots or plug touch the water, and take the strongest seedlings.

## Sow

sow = Sow
count-cups = { $n ->
    [one] { $n } net cup
   *[other] { $n } net cups
}
# Where all or some of it is cuttings or plugs.
sow-starts = Start
sow-and-starts = Sow and start
sow-line-cups = { $crop }: { $cups }; transplant { $date }
sow-line-seeds = { $crop }: sow { $seeds }, one a cell, to get { $cups }; transplant { $date }
sow-line-cells = { $crop }: sow { $cells ->
    [one] { $each } in one cell
   *[other] { $cells } cells, { $each } in each
} ({ $cups } of { $plants } plants); transplant { $date }
# $line: one of the lines above.
sow-line-short = { $line }; the nursery has no room for more spares: { $n } of 20 such sowings give enough
sow-hint = These numbers allow for poor germination: 19 sowings in 20 give enough unless the line says otherwise. A multi-plant cup is fine with two thirds of its plants. Keep them moist, not wet, and give light as soon as they show.
sow-too-warm = Too warm here for the seed of { $crops }, of which little would come up: let it sprout for three days in a cool place, below { $below }, then give it its place and light.
sow-hint-thin = Where more come up in a cell than a cup is to hold, snip off the weakest at the medium when the first true leaves show; pulling them tears the roots of the others.
sow-hint-cutting = Cuttings: take tips as long as a finger from a healthy plant, with a clean knife, just below a leaf; strip the lower leaves, and keep them moist, covered and out of strong light until they root.
sow-hint-plug = Plugs: rinse the soil off the roots in clean water, take off old leaves and runners, and set the crown just above the medium.

## Check

band = EC { $ec } mS/cm, pH { $ph }
band-short = EC { $ec }, pH { $ph }
check = Check { $what }
check-leaving = Fill the tank before you go away; check { $what }
check-what-nursery = the seedlings
check-what-all = level, EC and pH
check-loop = { $loop }: top up before it falls below { $least }; { $band }
check-loop-no-band = { $loop }: top up before it falls below { $least }. No EC and pH suit all that stands here: see the crops' cards.
check-ec = { $loop }: EC high: add { $water } of plain water for every 0.1 over (tank full? bail out the same first). EC low: add { $stock } of stock for every 0.1 under
check-ec-unknown-stock = { $loop }: EC high: add { $water } of plain water for every 0.1 over (tank full? bail out the same first). EC low: add stock a little at a time
check-ec-strong-water = { $loop }: EC high: your water is too salty to bring it down, so change some of the solution or add rain water. EC low: add { $stock } of stock for every 0.1 under
check-ec-strong-water-unknown-stock = { $loop }: EC high: your water is too salty to bring it down, so change some of the solution or add rain water. EC low: add stock a little at a time
# Without a number: what reads the same on every day is put in the calendar as one series.
check-nursery = Nursery: keep the seedlings moist.
check-rig = The pump runs, water leaves every tube, roots are white and do not smell bad.
check-away = Nobody is here from { $from } until { $until }: fill the tank to the top, and ask somebody to look in, above all in warm weather.
check-away-nursery = Nobody is here from { $from } until { $until }: ask somebody to keep the seedlings moist.
# Common practice, no published source.
check-seedlings-left = Seedlings stay in the nursery meanwhile: wet their cells through before you go, set the tray out of strong sun, and ask somebody to moisten them every second day; a cover that holds the damp helps for a few days.
check-falls-low = { $loop } falls below its top-up line on { $date } and reaches { $litres }
check-falls-dry = { $loop } falls below its top-up line on { $date }, then runs dry, and its plants go without some { $litres }
check-will-not-last = A full tank will not last that long: { $falls }. Have somebody top it up in between, or stand a larger tank beside it.
check-hint = Careful: unplug the pump before hands go into the water. Correct pH in small steps; acid into water, never water into acid; gloves and goggles.

## Season turn

swap = Crop changeover:
swap-turn = { $to } after { $from }
swap-line-today = { $want }: the first { $to } today, in place of { $from } (taken for the last time today)
swap-line-past = { $want }: the first { $to } today, in place of { $from } (last taken on { $date })
swap-line-later = { $want }: the first { $to } today, in place of { $from } (still there until { $date })

## The page and the sheet

page-report-title = The year's plan
page-skip = To the map
page-contents = On this page
page-glance = At a glance
page-map-title = Rig map
page-no-script = Moving through the days needs JavaScript switched on; the picture shows one day.
page-day-shown = Day shown
page-week-back = Previous week
page-day-back = Previous day
page-play = Play
page-day-on = Next day
page-week-on = Next week
page-go-to = Go to
page-keys = On the slider: arrow keys go by days, Page Up and Page Down by weeks. On a hole: arrow keys go to the hole beside.
page-touch-a-hole = Tap or click a hole to read what stands in it.
page-legend-due = harvested this week
page-legend-empty = empty hole
page-legend-clean = tube scrubbed that day
page-to-scale = Drawn to scale: every circle is as wide as the plant is on that day.
page-picture-of = Picture of
page-from-above = seen from above
page-from-front = seen from the front
page-unrolled = unrolled, face beside face
page-front = front
page-floor = the floor is below
page-face = face
page-chores-title = What to do
page-chores-hint = Ticks stay on this device. They are not your diary.
page-harvest-title = What you harvest
page-chart-of = Chart of
page-table-of = Table of
page-as-table = Week by week, as a table
page-week = Week
page-from-monday = From Monday
page-wanted = Wanted
page-harvested = Harvested
page-remark = Remark
page-key-full = a week's harvest, all that is wanted
page-key-short = a week's harvest, less than is wanted
page-key-wanted = wanted
page-key-ceiling = the most the rig could yield if it grew nothing else (shown only where close)
page-at-most = At most
page-would-help = What would help (each one re-planned)
page-key-rest = left out
page-log-title = How it has gone so far
page-log-until = By the diary up to { $day }
page-log-wants = Harvest so far against what was wanted
page-want = Want
page-wanted-so-far = Wanted so far
page-log-met = Met
page-log-met-told = { $harvested } harvested so far of { $wanted } wanted
page-log-days = Days to harvest, seen against planned
page-log-sown = Cells sown
page-log-set-out = Transplanted
page-log-taken = Harvested
page-days-seen = Days seen
page-days-planned = Days planned
page-pace = Pace
page-pace-hint = Days run from transplant to the first harvest, on average. Pace 0.97 means: ripe in 97 % of the days on its card.
page-log-losses = Plants lost
page-lost-in-nursery = In the nursery
page-come-through = Survival (95 % range)
page-lost-in-holes = In holes
page-causes = Cause
page-lost-of = { $lost } of { $all }
page-from-to = { $least } to { $most }
page-cause = { $why } ({ $n })
page-cause-not-said = not stated ({ $n })
page-log-water = Water used, against what was computed
page-loop = Loop
page-put-in = Topped up
page-times = Times
page-used-a-day = Used a day
page-computed-a-day = Computed
page-last-filled = Fresh solution
page-last-ec = Latest EC
page-last-ph = Latest pH
page-reading = { $number } on { $day }
page-log-water-hint = Measured from one full tank to the next. Computed from what stood there and an average year's weather: much more than that may be a leak, much less a tank that was not filled to the mark.
page-stays-title = The year, hole by hole
page-stays-hint = A row for every hole, from left to right through the weeks. Tap or click a place in it to see that day on the map.
page-key-sow = sown in the nursery
page-key-transplant = transplanted
page-key-cut = cut or picked
page-key-harvest = final harvest, comes out
page-key-clean = tube emptied and scrubbed
page-stays-in = Stays in
page-stays-label = The same is in the table below.
page-stays-table = All stays, as a table
page-year-title = Light, warmth and days to harvest
page-days-title = Days from transplant to ripe
page-set-out = Transplanted about the 11th of
page-days-hint = Words mark months in which it fails.
page-temperature = Temperature where the plants stand
page-light = Light that leaves can use
page-water-title = Water in the tanks
page-level = Level of the tank at the end of each day
page-level-told = lowest { $lowest } (top-up line { $least }); { $top-ups } top-ups, { $fillings } nutrient changes (ticks)
page-used = Water that plants use in a day
page-used-told = { $mean } on average, { $most } on the peak day
page-supplies-title = Seed and supplies
page-seed-list = Seed to buy
page-crop = Crop
page-seeds = Seeds
# $all: a number, or as count-starts tells it.
page-seeds-there = { $all } ({ $there } already in the house)
page-cups = Cups
page-first-sowing = First sown
page-last-sowing = Last sown
page-keeps = Keeps
# Of cuttings and plugs.
page-keeps-not = not at all
# $number is $n as it is written.
page-years = { $n ->
    [one] { $number } year
   *[other] { $number } years
}
page-findings-title = Findings and cautions
page-nothing-found = Nothing stands in the way: every crop that you want fits this rig.
page-take-care = Take care
page-each-check = At each check
page-each-deep-clean = At each deep clean
page-notes = Notes
page-nothing-to-do = Nothing to do this week.
page-sheet-no-map = So many holes could not be read here: see the map in report.html, or `steadyleaf map`.
page-sheet-names = A hole's name is its tube and its number: deck-2-5 is hole 5 of tube deck-2.
page-sheet-care = Plugs dry, above the water and behind a residual-current device. Gloves and eye protection for acids, bleach and salts; acid into water, never with bleach; all of it locked away from children. A lid on every tank. Clean hands and tools; throw away what smells or looks wrong. Local codes and licensed people take precedence.
page-open-holes = holes in use on average, { $most } on the fullest day
page-of-holes = of { $all }
page-a-week = a week on average, { $each } wanted
page-met = { $percent } of what is wanted
page-leanest = Leanest week: { $week }, { $amount }.
page-no-week-counts = No harvest.
page-average-told = { $average } a week on average of { $each } wanted: { $percent }.
page-bound = No plan for this rig could do more than { $gap } % better.
page-not-counted = No harvest expected: { $stretches }: { $why }
page-stretch = { $weeks } from { $day }
page-week-name = Week { $week }
page-span-told = { $from } to { $to }
page-mixed = Loop { $loop }: { $fillings } nutrient changes and { $top-ups } top-ups, { $litres } of water in all.
page-stock = Nutrient stock for that: about { $stock }.
page-cups-told = { $n } starter plugs of medium (no spares)
page-rest-before = nothing is ripe yet
page-rest-not-wanted = not wanted
page-rest-out = out of season
page-rest-nobody = nobody there
page-rest-nobody-to-plant = you are away on its sowing or transplant day
page-too-cold = cold
page-too-hot = hot
page-bolts = bolts
page-too-dark = dark
page-not-in-time = late
page-nobody = away
page-temperature-told = from { $low } on the coldest night to { $high } on the warmest afternoon, day and night of the usual year
page-light-told = from { $low } to { $high } a day
page-made-told = Made by { $maker } for { $garden }. It plans; it does not inspect your rig.
page-map-on = The rig on { $day }
page-away-told = Away from { $from } to { $to }.
page-holes = Holes
page-weeks = { $n ->
    [one] { $n } week
   *[other] { $n } weeks
}
page-things = { $n ->
    [one] { $n } thing to do
   *[other] { $n } things to do
}
# $number is $n as it is written.
page-heads = { $n ->
    [one] { $number } head
   *[other] { $number } heads
}
# All words here are short ones.
page-date = { $weekday } { $day } { $month } { $year }
page-short-date = { $day } { $month }

# What the page's script says.
script-stands = { $hole }: { $crop }, { $percent } % of full size, { $wide } spread, comes out { $out }
script-empty = { $hole }: empty
script-due = harvested this week
script-for-want = for { $want }
script-sown = Sown
# Of cuttings and plugs.
script-started = Started
script-set = Transplanted
script-grown = Of full size
script-wide = Spread
script-next-harvest = Next harvest
script-out = Comes out
script-then = Next here
script-nothing = nothing planned
script-free = Empty on this day.
script-pause = Pause
script-hole = Hole
script-crop = Crop
script-harvests = Harvests
script-on-hand = a seedling on hand
script-week = week { $week } of { $year }

## Findings, and what would help

month-and-year = { $month } { $year }
told-short = { $want }: { $percent } of what is wanted. { $weeks }
told-most = The most the rig could yield in { $month } if it grew nothing else: { $amount } a week.
# $why is one of the limits below.
told-short-weeks = In { $n ->
    [one] { $n } short week
   *[other] { $n } short weeks
} { $why }.
told-short-weeks-of = In { $first } of { $n } short weeks { $why }{ $rest }.
told-short-weeks-besides = ; in { $n } { $why }
told-limit-holes = every hole is full
told-limit-solution = crops that need another solution stand in the loop
told-limit-another-want = the holes are full, mostly for other wants (a higher `importance` would change that)
told-limit-nursery = holes are free, but no cells in the nursery
told-limit-space = holes are free, but the neighbours are too wide
told-limit-cleaning = holes are free but for the scrubbing of their tubes
told-limit-season = the time of year leaves few days to transplant
told-limit-absence = you are away on its sowing or transplant day
told-limit-too-late-to-sow = it is too late to sow: only young plants, bought or given and transplanted now, could still be ripe
told-limit-too-late = it is too late: nothing sown or transplanted now would be ripe
told-limit-none = another plant would cost more than it gives
told-help = { $change }: { $gains }.
told-gain-more = { $amount } more { $want } a week
told-gain-less = { $amount } less { $want } a week
# $holes: as count-holes tells it.
told-change-tube = one more tube like { $like }, of { $holes }
told-change-nursery = { $n ->
    [one] { $n } cell
   *[other] { $n } cells
} more in the nursery
told-change-cleaning = { $n ->
    [one] { $n } more day
   *[other] { $n } more days
} of leeway for cleaning
told-change-crop = { $crop } as another crop for { $want }
told-too-tall = { $crop } does not fit in { $bank }: it grows { $height } tall, with { $headroom } free above; { $which }.
told-too-tall-all = none of its holes takes one
told-too-tall-some = { $n } of its { $of } holes do not take one
told-never = { $crop } in { $bank }: { $why }.
told-never-seedlings = its seedlings are never ready in time
told-never-cold = too cold whenever you could plant it
told-never-hot = too hot whenever you could plant it
told-never-bolts = it would run to seed whenever you could plant it
told-never-dark = too dark whenever you could plant it
told-never-in-time = it would not be ripe before the plan ends
told-never-nobody = it would spoil before anybody is there to take it
# $reasons: a list of the told-reason texts.
told-never-several = whenever you could plant it, one or the other stops it: { $reasons }
told-reason-cold = cold
told-reason-hot = heat
told-reason-bolts = running to seed
told-reason-dark = too little light
told-reason-in-time = the plan's end
told-reason-nobody = nobody there to take it
told-nothing-for = { $want }: none of its crops can be grown here as the garden stands.
told-solutions-differ = { $a } and { $b } need { $bands }, so they never stand in one loop together.
# $why: one of the told-not-kept texts that follow.
told-not-kept = { $crop } kept for seed in { $hole } is left out: { $why }.
told-not-kept-blocked = the hole is blocked
told-not-kept-taken = what stands there does not make room before { $until }, when its seed should be ripe
told-not-kept-no-seedling = no seedling can be ready before { $until }, when its seed should be ripe
told-ec = EC { $least }-{ $most }
told-ph = pH { $least }-{ $most }
told-pump-rating = the pump is rated { $value }; { $limit } (twice the flow of its tubes) is recommended
told-pump-lift = the pump lifts { $value }; { $limit } (the height of { $rises } and a quarter more) is recommended
told-stream-flow = each tube gets { $value }; { $limit } to { $more } is recommended
told-hose-speed = water runs through the hose at { $value }; above { $limit } a wider one saves lift and noise
told-tank-size = the tank holds { $value } times the water in the tubes; { $limit } to { $more } times is recommended
told-tank-lasts = a full tank reaches the top-up line in { $value } days, with every hole full on the peak day; your workdays are up to { $limit } days apart
told-floor-load = the full tank loads its floor with { $value }; many floors of dwellings are built for { $limit }: have it checked by a professional
told-drain-bore = drains are { $value } wide; { $limit } or more is recommended, as roots and leaves get in
told-drain-slope = drains fall { $value } %; { $limit } % or more is recommended
told-drain-overflows = drains get { $value } times what they carry, and the tubes would overflow: wider, steeper or more of them
told-drain-fill = drains run { $value } % full; up to { $limit } % is recommended, so that air goes along
told-source-water = your water itself has EC { $value } mS/cm; up to { $limit } leaves room for nutrients
told-top-up-water = plants take up about EC { $limit } mS/cm with what they drink, and your water has { $value }: topping up with it will not concentrate the solution
told-top-up-climbs = your water has EC { $value } mS/cm, more than plants take up with what they drink, about { $limit }: the solution concentrates however often it is topped up; mix in rain water, or change it more often
told-open-tank = the tank is open: light makes algae grow in it, mosquitoes breed there, and a child or an animal can drown in it; put a lid on it
told-solutions-not-shared = { $n ->
    [one] { $n } pair
   *[other] { $n } pairs
} of the wanted crops cannot share a solution: the plan never has them in this loop together
told-solution-shared = all wanted crops share a solution
told-tube-fill = tubes stand { $value } % full; about { $limit } % is recommended
told-tube-fill-low = tubes stand { $value } % full; about { $limit } % is recommended, or young roots hang in the air above the water
told-wall-gap = this wall's tubes are { $value } apart; { $least } to { $limit } is usual, and more is room that no plant needs
told-tube-gap = tubes are { $value } apart; { $limit } or more is recommended
told-power-cut = if the pump fails, roots stay wet about { $time } { $when }
told-power-cut-dry = if the pump fails, roots begin to dry within the hour { $when }: think of a spare pump and a battery
told-when-full = (worst case: the peak day, every hole full)
told-when-thirstiest = (worst case, { $day })
told-hours = { $n ->
    [one] { $n } hour
   *[other] { $n } hours
}
told-days = { $n ->
    [one] { $n } day
   *[other] { $n } days
}
told-weight = { $value } with water to the brim and every hole planted, { $each } for each { $per ->
    [foot] foot
   *[metre] metre
} of tube
told-low = A full tank does not last { $days }: { $falls }. Ask somebody to fill it, or use a larger tank.
told-low-many = A full tank does not last from one workday to the next { $n } times from { $from } to { $until }, at the worst { $days }: { $falls }. Top it up on more days, or use a larger tank.
told-low-on = on { $day }
told-low-from-until = from { $from } to { $until }
told-low-falls = it falls to { $lowest }, below its top-up line
told-low-dry = it runs dry
told-low-lacking = { $level }, and its plants go without { $lacking }
told-too-strong = On { $n ->
    [one] one day
   *[other] { $n } days
} EC will run high whatever you top up with; worst { $day }: { $ec } mS/cm (limit { $suits }). A larger tank, a look on more days, or softer water, such as rain, keeps it down.
told-from-half-the-aim = half of the EC to aim at, common practice
told-from-estimate = our estimate
told-from-drain-standard = EN 12056-2 for indoor drains, from memory
told-from-floor-standard = EN 1991-1-1, floors of dwellings, from memory; national rules differ
told-from-licensed = have the support checked by a professional

## Cautions

caution-electricity-indoors = Electricity: pump, lamps and water share a room. Plug them behind a residual-current device, keep plugs and sockets above and away from the water, and let every cable hang in a loop that drips before it reaches the socket. Have fixed wiring done by a licensed electrician.
caution-electricity-outdoors = Electricity: pump and water stand together, where rain, spray and dew come too. Plug the pump behind a residual-current device, keep plugs dry and off the ground, let every cable hang in a loop that drips before it reaches the socket, and use only what is rated for outdoors. Have fixed wiring done by a licensed electrician.
caution-weight = Weight: water weighs a kilogram a litre, 8.3 pounds a gallon, besides tank, tubes and plants. Have a wall, roof, balcony or shelf checked by someone licensed before you load it.
caution-towers = Towers: a full tower can tip over. Fix it at its head and foot, above all where there is wind or children.
caution-walls = Walls: tubes full of water pull at their brackets. Use fixings made for the wall and the load, and look at them at every deep clean.
caution-chemicals = Acids, bleach and salts: wear gloves and eye protection, pour the acid into the water and never the water into the acid, never mix acid with bleach, and keep all of it locked away from children. Follow the label and the local rules for getting rid of it.
caution-open-water = Open water: a small child can drown in very little of it. Keep a lid on the tank.
caution-food = Food: wash hands, harvest with clean tools, rinse leaves in drinking water, keep animals away, and throw away what smells or looks wrong.
caution-frost = Frost: half-full tubes, hose, pump and tank freeze and burst, and meltwater runs where the mains are. Before nights of frost heat the rig, or unplug it and drain all of it; ice on the floor around it is slippery.
caution-lifting = Lifting: a bucket of ten litres weighs ten kilograms (22 pounds). Fill the tank where it stands.
caution-codes = Local codes and licensed people take precedence over anything that this program says.
