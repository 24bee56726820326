//! What the sentences that a grower reads mean, in every language: written down here once more, so
//! that a word that went astray in a catalogue is seen.

use chrono::{Datelike, NaiveDate};
use steadyleaf::chores::Kind;

/// A pound \[g\] and a US gallon \[l\] (NIST Handbook 44, appendix C).
const POUND: f64 = 453.592_37;
pub const GALLON: f64 = 3.785_411_784;

/// Sentences of one language; `{}` stands for what changes, and at the end for any rest.
pub struct Tongue {
    code: &'static str,
    weekdays: [&'static str; 7],
    months: [&'static str; 12],
    /// Between day, month and year.
    of: &'static str,
    /// What a kind of work is called, in the order of `Kind::ALL`.
    kinds: [&'static str; 11],
    /// How a title of each begins.
    leads: [&'static [&'static str]; 11],
    /// How a title goes on where it has no room for all.
    pub cut_short: [&'static str; 2],
    /// What says on a small screen that sums stand for lists.
    pub on_the_sheet: [&'static str; 1],
    pub cancelled: &'static str,
    /// Amount and want, crop, manner, holes.
    pub harvest: [&'static str; 2],
    pub last: &'static str,
    /// Number (or crop), crop (or number), day of sowing, holes.
    pub set_out: [&'static str; 2],
    /// Of seedlings on hand: with the day of their sowing, and without.
    pub set_out_on_hand: [&'static str; 3],
    pub set_out_for_seed: &'static str,
    pub crop_first: bool,
    /// Scrubbed, planted again, left empty; holes.
    pub cleared: [&'static str; 3],
    /// Number and crop, holes.
    pub seed_taken: &'static str,
    pub scrubbed: [&'static str; 2],
    pub and: &'static str,
    /// Loop and what is filled in: nothing drained, the tank, tank and tubes.
    pub filled: [&'static str; 3],
    /// Filling, EC and pH.
    pub aim: &'static str,
    pub stock: [&'static str; 2],
    /// Loop, day and litres.
    pub drained_until: &'static str,
    /// Loop and litres.
    pub drained: &'static str,
    /// Loop, litres (stock), until when.
    pub topped_up: [&'static str; 3],
    pub to_the_mark: &'static str,
    pub soon_changed: &'static str,
    /// Loop, least, EC and pH; or none of these.
    pub level: [&'static str; 2],
    /// Loop, litres, millilitres where they are known.
    pub ec_off: [&'static str; 2],
    pub nursery: &'static str,
    pub away: [&'static str; 2],
    /// Loop, day, litres: low, and dry.
    pub falls: [&'static str; 2],
    /// Loop, what it holds and weighs.
    pub leak_test: &'static str,
    pub leak_test_before: &'static str,
    /// Crop, number, sowings, the last of them.
    pub seed: [&'static str; 2],
    /// Crop, cells or seeds, cups, day: one seed a cell, several in one cell, several in cells.
    pub sown: [&'static str; 3],
    /// Want, the new crop and the old, day.
    pub turn: [&'static str; 3],
    /// What all checks, or deep cleans, say on a sheet.
    pub each: [(&'static str, Kind); 2],
}

pub static TONGUES: [Tongue; 2] = [
    Tongue {
        code: "en",
        weekdays: ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"],
        months: [
            "January",
            "February",
            "March",
            "April",
            "May",
            "June",
            "July",
            "August",
            "September",
            "October",
            "November",
            "December",
        ],
        of: " ",
        kinds: [
            "Seed order",
            "Leak test",
            "Harvest",
            "Clear",
            "Deep clean",
            "Nutrient change",
            "Top up",
            "Transplant",
            "Sow",
            "Check",
            "Crop changeover",
        ],
        leads: [
            &["Buy seed:", "Buy seed and plug plants:"],
            &["Leak test:"],
            &["Harvest "],
            &["Clear and wipe "],
            &["Deep-clean tube"],
            &["Fill with nutrient solution:", "Nutrient change:", "Drain:"],
            &["Top up "],
            &["Transplant "],
            &["Sow ", "Start ", "Sow and start "],
            &["Check ", "Fill the tank before you go away;"],
            &["Crop changeover:"],
        ],
        cut_short: [" more", "…"],
        on_the_sheet: ["see the sheet"],
        cancelled: "Cancelled: ",
        harvest: ["about {}: {}, {}, from {}", "{}: {}, {}, from {}"],
        last: "final ",
        set_out: [
            "{} {}, sown on {}, into {}",
            "{} {}, started on {}, into {}",
        ],
        set_out_on_hand: [
            "{} {}, from the seedlings on hand sown on {}, into {}",
            "{} {}, from the seedlings on hand started on {}, into {}",
            "{} {}, from the seedlings on hand, into {}",
        ],
        set_out_for_seed: "{} {}, sown on {}, into {} (left to flower for its seed: do not harvest it)",
        crop_first: false,
        cleared: [
            "Pull net cups and roots; the tube is scrubbed today: {}",
            "Pull net cups and roots, wipe; replanted today: {}",
            "Pull net cups and roots, wipe, and cover the holes (light grows algae): {}",
        ],
        seed_taken: "First cut the ripe seed heads of {} left to flower, and {} on it: {}",
        scrubbed: ["Tube {} stands empty today.", "Tubes {} stand empty today."],
        and: " and ",
        filled: [
            "{}: fill with {}",
            "{}: drain the tank, refill with {}",
            "{}: drain tank and tubes, refill with {}",
        ],
        aim: "{}; aim at EC {} and pH {}",
        stock: [
            "{}: about {} of stock, {} a litre; then measure",
            "{}: about {} of stock, {} a gallon; then measure",
        ],
        drained_until: "{}: nothing stands here until {}. Unplug the pump, drain tank and tubes ({}), {}",
        drained: "{}: nothing follows here for weeks. Unplug the pump, drain tank and tubes ({}), {}",
        topped_up: [
            "{}: about {} of plain water, {}; then check EC and pH",
            "{}: about {} of solution of half strength ({} of stock in it), {}; then check EC and pH",
            "{}: about {} of solution of half strength, {}; then check EC and pH",
        ],
        to_the_mark: "to the full mark",
        soon_changed: "no more (a nutrient change is due soon)",
        level: [
            "{}: top up before it falls below {}; EC {} mS/cm, pH {}",
            "{}: top up before it falls below {}. No EC and pH suit all {}",
        ],
        ec_off: [
            "{}: EC high: add {} of plain water for every 0.1 over {} EC low: add {} of stock for every 0.1 under",
            "{}: EC high: add {} of plain water for every 0.1 over {}",
        ],
        nursery: "Nursery: keep the seedlings moist.",
        away: [
            "Nobody is here from {} until {}: fill the tank {}",
            "Nobody is here from {} until {}: ask somebody {}",
        ],
        falls: [
            "{} falls below its top-up line on {} and reaches {}",
            "{} falls below its top-up line on {}, then runs dry, and its plants go without some {}",
        ],
        leak_test: "{}: fill with plain water. The tank holds {}, which weighs {}.",
        leak_test_before: "{}, before the first planting on {}.",
        seed: ["{}: {} ({} until {})", "{}: {} in all (on {} until {}). {}"],
        sown: [
            "{}: sow {}, one a cell, to get {}; transplant {}",
            "{}: sow {} in one cell ({} of {} plants); transplant {}",
            "{}: sow {} cells, {} in each ({} of {} plants); transplant {}",
        ],
        turn: [
            "{}: the first {} today, in place of {} (taken for the last time today)",
            "{}: the first {} today, in place of {} (last taken on {})",
            "{}: the first {} today, in place of {} (still there until {})",
        ],
        each: [
            ("At each check", Kind::Check),
            ("At each deep clean", Kind::DeepClean),
        ],
    },
    Tongue {
        code: "es",
        weekdays: ["lun", "mar", "mié", "jue", "vie", "sáb", "dom"],
        months: [
            "enero",
            "febrero",
            "marzo",
            "abril",
            "mayo",
            "junio",
            "julio",
            "agosto",
            "septiembre",
            "octubre",
            "noviembre",
            "diciembre",
        ],
        of: " de ",
        kinds: [
            "Comprar semillas",
            "Prueba de fugas",
            "Cosechar",
            "Vaciar",
            "Limpieza a fondo",
            "Renovar la solución",
            "Reponer agua",
            "Trasplantar",
            "Sembrar",
            "Revisar",
            "Relevo de cultivos",
        ],
        leads: [
            &[
                "Comprar semillas:",
                "Comprar semillas y plantones con cepellón:",
            ],
            &["Prueba de fugas:"],
            &["Cosechar "],
            &["Vaciar y limpiar "],
            &["Limpiar a fondo "],
            &[
                "Llenar con solución nutritiva:",
                "Renovar la solución:",
                "Vaciar:",
            ],
            &["Reponer agua: "],
            &["Trasplantar "],
            &[
                "Sembrar ",
                "Poner en el semillero ",
                "Sembrar y poner en el semillero ",
            ],
            &["Revisar ", "Llenar el depósito antes de salir de viaje;"],
            &["Relevo de cultivos:"],
        ],
        cut_short: [" más", "…"],
        on_the_sheet: ["véase la hoja"],
        cancelled: "Anulado: ",
        harvest: ["unos {}: {}, {}, de {}", "{}: {}, {}, de {}"],
        last: "últim",
        set_out: [
            "{} ({}), de la siembra del {}, a {}",
            "{} ({}), puestos en el semillero el {}, a {}",
        ],
        set_out_on_hand: [
            "{} ({}), de los plantones que ya hay, de la siembra del {}, a {}",
            "{} ({}), de los plantones que ya hay, puestos en el semillero el {}, a {}",
            "{} ({}), de los plantones que ya hay, a {}",
        ],
        set_out_for_seed: "{} ({}), de la siembra del {}, a {} (se deja espigar para sacar semilla: no se cosecha)",
        crop_first: true,
        cleared: [
            "Saca canastillas y raíces; hoy se limpia a fondo el tubo: {}",
            "Saca canastillas y raíces, limpia; hoy se vuelve a plantar: {}",
            "Saca canastillas y raíces, limpia los huecos y tápalos (con la luz crecen algas): {}",
        ],
        seed_taken: "Corta primero las cabezas con semilla madura de {}, que se dejó espigar, y {} su nombre: {}",
        scrubbed: [
            "El tubo {} está hoy vacío.",
            "Los tubos {} están hoy vacíos.",
        ],
        and: " y ",
        filled: [
            "{}: llena con {}",
            "{}: vacía el depósito y llena con {}",
            "{}: vacía depósito y tubos y llena con {}",
        ],
        aim: "{}; intenta llegar a CE {} y pH {}",
        stock: [
            "{}: unos {} de concentrado, {} por litro; después mide",
            "{}: unos {} de concentrado, {} por galón; después mide",
        ],
        drained_until: "{}: aquí no hay nada hasta el {}. Desenchufa la bomba, vacía depósito y tubos ({}) {}",
        drained: "{}: aquí no viene nada en semanas. Desenchufa la bomba, vacía depósito y tubos ({}) {}",
        topped_up: [
            "{}: unos {} de agua sola, {}; después comprueba CE y pH",
            "{}: unos {} de solución a media concentración (con {} de concentrado), {}; después comprueba CE y pH",
            "{}: unos {} de solución a media concentración, {}; después comprueba CE y pH",
        ],
        to_the_mark: "hasta la marca de lleno",
        soon_changed: "no más (pronto toca renovar la solución)",
        level: [
            "{}: repón agua antes de que baje de {}; CE {} mS/cm, pH {}",
            "{}: repón agua antes de que baje de {}. Ninguna CE ni pH conviene a todo {}",
        ],
        ec_off: [
            "{}: CE alta: añade {} de agua sola por cada 0,1 de más {} CE baja: añade {} de concentrado por cada 0,1 de menos",
            "{}: CE alta: añade {} de agua sola por cada 0,1 de más {}",
        ],
        nursery: "Semillero: mantén húmedos los plantones.",
        away: [
            "No hay nadie desde el {} hasta el {}: llena el depósito {}",
            "No hay nadie desde el {} hasta el {}: pide a alguien que mantenga húmedos {}",
        ],
        falls: [
            "{} baja de la línea de reposición el {} y llega a {}",
            "{} baja de la línea de reposición el {}, luego se vacía, y a sus plantas les faltan unos {}",
        ],
        leak_test: "{}: llena con agua sola. En el depósito caben {}, que pesan {}.",
        leak_test_before: "{}, antes de la primera plantación, el {}.",
        seed: [
            "{}: {} ({} hasta el {})",
            "{}: {} en total (en {} hasta el {}). {}",
        ],
        sown: [
            "{}: {}, 1 por alvéolo, para tener {} al trasplantar el {}",
            "{}: {} en un alvéolo, para tener {} de {} plantas al trasplantar el {}",
            "{}: {} alvéolos, {} en cada uno, para tener {} de {} plantas al trasplantar el {}",
        ],
        turn: [
            "{}: {} desde hoy, en lugar de {} (se recoge hoy por última vez)",
            "{}: {} desde hoy, en lugar de {} (recogida por última vez el {})",
            "{}: {} desde hoy, en lugar de {} (sigue hasta el {})",
        ],
        each: [
            ("En cada revisión", Kind::Check),
            ("En cada limpieza a fondo", Kind::DeepClean),
        ],
    },
];

impl Tongue {
    pub fn of(code: &str) -> &'static Self {
        let tongue = TONGUES.iter().find(|t| t.code == code);
        tongue.unwrap_or_else(|| panic!("no words of `{code}` to hold it against"))
    }

    /// A day as it is said on another: with its year only where that is another one.
    pub fn day(&self, day: NaiveDate, on: NaiveDate) -> String {
        let weekday = self.weekdays[day.weekday().num_days_from_monday() as usize];
        let said = format!("{weekday} {}", self.day_and_month(day));
        if day.year() == on.year() {
            said
        } else {
            format!("{said}{}{}", self.of, day.year())
        }
    }

    pub fn day_and_month(&self, day: NaiveDate) -> String {
        let month = self.months[day.month0() as usize];
        format!("{}{}{month}", day.day(), self.of)
    }

    /// A day of a page's headings: `Wed 3 Mar 2027`.
    pub fn heading(&self, text: &str) -> Option<NaiveDate> {
        let mut words = text.split(' ');
        let (_, day, month, year) = (words.next()?, words.next()?, words.next()?, words.next()?);
        let month = self.months.iter().position(|m| m.starts_with(month))?;
        let month = u32::try_from(month).expect("a month") + 1;
        let date = NaiveDate::from_ymd_opt(year.parse().ok()?, month, day.parse().ok()?)?;
        let weekday = self.weekdays[date.weekday().num_days_from_monday() as usize];
        text.starts_with(weekday).then_some(date)
    }

    /// The kind of work that has a name.
    pub fn kind(&self, called: &str) -> Option<Kind> {
        let at = self.kinds.iter().position(|k| *k == called)?;
        Some(Kind::ALL[at])
    }

    /// The kind of work that a title tells of.
    pub fn kind_of(&self, title: &str) -> Option<Kind> {
        let leads = Kind::ALL.into_iter().zip(&self.leads);
        let leads = leads.flat_map(|(kind, leads)| leads.iter().map(move |lead| (kind, lead)));
        let fit = leads.filter(|(_, lead)| title.starts_with(**lead));
        fit.max_by_key(|(_, lead)| lead.len()).map(|(kind, _)| kind)
    }

    /// What a title tells behind its lead, and whether that is all.
    pub fn title<'t>(&self, title: &'t str) -> Option<(&'t str, bool)> {
        let leads = self.leads.iter().copied().flatten();
        let lead = leads
            .filter(|lead| title.starts_with(**lead))
            .max_by_key(|lead| lead.len())?;
        let is_all = !self.cut_short.iter().any(|end| title.ends_with(end));
        Some((title[lead.len()..].trim(), is_all))
    }
}

/// What stands in the gaps of a sentence; nothing if the line is another one.
pub fn gaps<'t>(sentence: &str, line: &'t str) -> Option<Vec<&'t str>> {
    let mut parts = sentence.split("{}");
    let mut rest = line.strip_prefix(parts.next()?)?;
    let mut parts = parts.peekable();
    let mut found = Vec::new();
    while let Some(part) = parts.next() {
        let at = match parts.peek() {
            None if part.is_empty() => rest.len(),
            None => rest.len().checked_sub(part.len())?,
            Some(_) => rest.find(part)?,
        };
        let (gap, after) = rest.split_at_checked(at)?;
        found.push(gap);
        rest = after.strip_prefix(part)?;
    }
    rest.is_empty().then_some(found)
}

/// A number at the beginning of a text.
pub fn number(text: &str) -> Option<f64> {
    text.split(' ').next()?.parse().ok()
}

/// How much a text tells \[litres, grams, or pieces\], and how far it may be off as it is rounded.
pub fn amount(text: &str) -> Option<(f64, f64)> {
    let mut words = text.split(' ');
    let written = words.next()?;
    let number: f64 = written.parse().ok()?;
    let (unit, step) = match words.next() {
        Some("ml") => (0.001, if number < 100.0 { 1.0 } else { 100.0 }),
        Some("l") => (1.0, if number >= 10.0 { 1.0 } else { 0.1 }),
        Some("gal") => (GALLON, if number >= 1.0 { 0.1 } else { 0.01 }),
        Some("g") => (1.0, 1.0),
        Some("kg") => (1000.0, 0.1),
        Some("oz") => (POUND / 16.0, 0.1),
        Some("lb") => (POUND, 0.1),
        _ => (1.0, 0.1),
    };
    Some((number * unit, step / 2.0 * unit + 1e-9))
}

/// Millilitres of stock, and how far they may be off.
pub fn millilitres(text: &str) -> Option<(f64, f64)> {
    let ounce = GALLON * 1000.0 / 128.0;
    let number = number(text)?;
    if text.ends_with(" fl oz") {
        Some((number * ounce, 0.05 * ounce + 1e-9))
    } else {
        text.ends_with(" ml").then_some((number, 0.5 + 1e-9))
    }
}
