# Español.

language-code = es
language-own-name = español
language-english-name = Spanish

## Fechas y listas

weekday-short = { $weekday ->
    [1] lun
    [2] mar
    [3] mié
    [4] jue
    [5] vie
    [6] sáb
   *[7] dom
}
weekday-long = { $weekday ->
    [1] lunes
    [2] martes
    [3] miércoles
    [4] jueves
    [5] viernes
    [6] sábado
   *[7] domingo
}
month-short = { $month ->
    [1] ene
    [2] feb
    [3] mar
    [4] abr
    [5] may
    [6] jun
    [7] jul
    [8] ago
    [9] sept
    [10] oct
    [11] nov
   *[12] dic
}
month-long = { $month ->
    [1] enero
    [2] febrero
    [3] marzo
    [4] abril
    [5] mayo
    [6] junio
    [7] julio
    [8] agosto
    [9] septiembre
    [10] octubre
    [11] noviembre
   *[12] diciembre
}
date = { $weekday } { $day } de { $month }
date-with-year = { $weekday } { $day } de { $month } de { $year }
date-long = { $weekday }, { $day } de { $month } de { $year }
day-and-month = { $day } de { $month }

list-and = { $most } y { $last }
list-more = { $most } y { $n } más

## El calendario

calendar-name-of-kind = { $garden }: { $kind }
calendar-cancelled = Anulado: { $summary }

## Clases de tarea

kind-seed-order = Comprar semillas
kind-leak-test = Prueba de fugas
kind-harvest = Cosechar
kind-clear = Vaciar
kind-deep-clean = Limpieza a fondo
kind-solution = Renovar la solución
kind-top-up = Reponer agua
kind-transplant = Trasplantar
kind-sow = Sembrar
kind-check = Revisar
kind-swap = Relevo de cultivos

## Huecos y tubos

count-holes = { $n ->
    [one] { $n } hueco
   *[other] { $n } huecos
}
tubes = { $n ->
    [one] el tubo { $names }
   *[other] los tubos { $names }
}
tubes-summed = { $n ->
    [0] { $tubes }
    [one] { $tubes } y { $n } tubo más
   *[other] { $tubes } y { $n } tubos más
}; véase la hoja
more-on-the-sheet = y { $n } más; véase la hoja

## Pedir semilla

seed-order = Comprar semillas:
seed-order-starts = Comprar semillas y plantones con cepellón:
count-starts = { $kind ->
    [cutting] { $n ->
        [one] { $n } esqueje
       *[other] { $n } esquejes
    }
    [plug] { $n ->
        [one] { $n } plantón con cepellón
       *[other] { $n } plantones con cepellón
    }
   *[seed] { $n ->
        [one] { $n } semilla
       *[other] { $n } semillas
    }
}
seed-needed = { $crop }: { $seeds } ({ $sowings ->
    [one] { $sowings } siembra
   *[other] { $sowings } siembras
} hasta el { $until })
seed-needed-keeps = { $crop }: { $seeds } ({ $sowings ->
    [one] { $sowings } siembra
   *[other] { $sowings } siembras
} hasta el { $until }; se conserva alrededor de { $years ->
    [one] { $years } año
   *[other] { $years } años
})
starts-needed = { $crop }: { $seeds } en total (en { $sowings ->
    [one] { $sowings } día
   *[other] { $sowings } días
} hasta el { $until }). { $kind ->
    [cutting] No se conservan: ten una planta sana de la que cortarlos cada vez.
   *[plug] No se conservan: que lleguen frescos para cada día. También sirven estolones con raíz.
}
seed-hint = Las cantidades cuentan con la semilla que falla. Guarda los sobres en un sitio fresco, oscuro y seco; la semilla vieja germina poco.

## Prueba de fugas

leak-test = Prueba de fugas: probar la instalación solo con agua
leak-test-loop = { $loop }: llena con agua sola. En el depósito caben { $holds }, que pesan { $weight }.
leak-test-hint-run = Deja la bomba en marcha uno o dos días, antes de la primera plantación, el { $date }.
leak-test-hint-look = Palpa cada unión, entrada y desagüe en busca de goteos; mira que a cada tubo le llegue su parte y que el nivel del depósito no baje. Repara y vuelve a probar.
leak-test-hint-mains = Cuidado, corriente eléctrica cerca del agua: enchufes por encima del agua y lejos de salpicaduras, con protección diferencial; desenchufa antes de meter las manos. Las normas locales y un electricista autorizado tienen la última palabra.
leak-test-hint-weight = Cuidado, peso: antes de llenar una instalación en una pared, azotea o balcón, que una persona cualificada diga que aguanta.
leak-test-hint-cover = Mantén tapado el depósito: niños y animales se ahogan en poca agua.

## Cosechar

harvest = Cosechar
harvest-line = { $amount }: { $crop }, { $manner }, de { $holes }
harvest-line-about = unos { $amount }: { $crop }, { $manner }, de { $holes }
manner-whole = plantas enteras
manner-a-cut = un corte
manner-cut = { $n ->
    [1] primer corte
    [2] segundo corte
    [3] tercer corte
   *[other] corte número { $n }
}
manner-last-cut = último corte y retirada
manner-picking = una recogida
manner-last-picking = última recogida y retirada
manner-taken = lo que esté maduro
amount-of = { $amount } de { $want }
heads-of = { $n ->
    [one] { $heads } pieza de { $want }
   *[other] { $heads } piezas de { $want }
}
heads-word = piezas
heads-word-one = pieza
harvest-hint = Manos limpias, cuchillo limpio. Que la solución nutritiva no toque lo que se come; enjuaga hojas y frutos con agua potable.

## Despejar

clear = Vaciar y limpiar { $holes }
clear-scrubbed = Saca canastillas y raíces; hoy se limpia a fondo el tubo: { $holes }
clear-planted-again = Saca canastillas y raíces, limpia; hoy se vuelve a plantar: { $holes }
clear-left-empty = Saca canastillas y raíces, limpia los huecos y tápalos (con la luz crecen algas): { $holes }
clear-seed = Corta primero las cabezas con semilla madura de { $plants }, que se dejó espigar, y sécalas en una bolsa de papel con su nombre: { $holes }

## Limpieza a fondo

deep-clean = Limpiar a fondo { $tubes }
deep-clean-line = { $n ->
    [one] El tubo { $names } está hoy vacío.
   *[other] Los tubos { $names } están hoy vacíos.
}
deep-clean-hint-shut = Desenchufa la bomba de la pared. Cierra la entrada del tubo y lleva su desagüe a un cubo: el agua de limpieza no debe llegar ni al depósito ni a otras plantas.
deep-clean-hint-brush = Primero cepilla con agua templada todas las raíces y el biofilm (limo); el desinfectante no lo atraviesa.
deep-clean-hint-disinfect = Luego desinfecta las superficies duras como diga la etiqueta del producto; con lejía doméstica, lo usual es 1 parte en 9 partes de agua, dejándola mojada 30 minutos.
deep-clean-hint-rinse = Enjuaga con agua sola hasta que no huela a nada. Después abre la entrada y enchufa la bomba con las manos secas.
deep-clean-hint-solution = Hoy también se renueva la solución: primero limpiar, después llenar.
deep-clean-hint-gas = Cuidado: no mezcles nunca lejía con ácido, vinagre, amoniaco o peróxido: se forma un gas venenoso. Guantes, gafas, ventanas abiertas, niños lejos. La etiqueta y las normas locales prevalecen.

## Solución

solution-first = Llenar con solución nutritiva:
solution-change = Renovar la solución:
solution-line-first = { $loop }: llena con { $holds }
solution-line-change = { $loop }: vacía el depósito y llena con { $holds }
solution-line-tubes = { $loop }: vacía depósito y tubos y llena con { $holds }
solution-tubes-too = { $loop }: en los tubos cabe más que en el depósito, así que renovar solo este serviría de poco
solution-mixes = { $loop }: en los tubos quedan unos { $litres } de la solución vieja; mezclada a CE { $ec }, la nueva da con ella lo que se busca
solution-empty = Vaciar:
solution-empty-until = { $loop }: aquí no hay nada hasta el { $date }. Desenchufa la bomba, vacía depósito y tubos ({ $litres }) y sécalos; en la solución vieja y templada se cría lo que pudre las raíces.
solution-empty-line = { $loop }: aquí no viene nada en semanas. Desenchufa la bomba, vacía depósito y tubos ({ $litres }) y sécalos; en la solución vieja y templada se cría lo que pudre las raíces.
solution-in-tubes = { $loop }: los tubos se llevan unos { $litres } de eso al arrancar la bomba; después vuelve a llenar el depósito
solution-aim = { $fill }; intenta llegar a CE { $ec } y pH { $ph }
solution-stock = { $loop }: unos { $stock } de concentrado, { $each } { $per ->
    [gallon] por galón
   *[litre] por litro
}; después mide
solution-by-volume = { $loop }: antes de lo habitual, pues el agua repuesta desde la última renovación suma ya el depósito entero
solution-hint-stir = Disuelve los nutrientes de uno en uno en el depósito lleno, nunca un concentrado en otro; primero la CE, al final el pH, y mide otra vez pasada una hora.
solution-hint-carry = El agua pesa: llévala en recipientes pequeños. La solución vieja puede abonar tierra de jardín donde las normas locales lo permitan, nunca un desagüe que dé a un arroyo.
solution-hint-acid = Cuidado: desenchufa la bomba de la pared antes de meter las manos en el agua. El ácido al agua, nunca el agua al ácido; guantes y gafas; ácidos y sales fuera del alcance de los niños. Las etiquetas prevalecen.

## Rellenar

top-up = Reponer agua:
top-up-loop = { $loop } con { $litres }
top-up-line-water = { $loop }: unos { $litres } de agua sola, { $until }; después comprueba CE y pH
top-up-line-half = { $loop }: unos { $litres } de solución a media concentración, { $until }; después comprueba CE y pH
top-up-line-half-stock = { $loop }: unos { $litres } de solución a media concentración (con { $stock } de concentrado), { $until }; después comprueba CE y pH
top-up-until-full = hasta la marca de lleno
top-up-until-change = no más (pronto toca renovar la solución)
top-up-hint = Con calor y viento las plantas beben más que en un año medio: guíate por el nivel. Deja reposar el agua fría del grifo hasta que esté como la del depósito.
top-up-hint-lid = Vuelve a poner la tapa: niños y animales se ahogan en muy poca agua.
top-up-hint-open = Cuidado, depósito abierto: niños y animales se ahogan en muy poca agua, y con luz crecen algas. Ponle encima una tapa o unas tablas.

## Trasplantar

transplant = Trasplantar
number-of-crop = { $crop } ({ $n })
transplant-line-sown = { $plants }, { $kind ->
    [seed] de la siembra del { $date }
   *[other] puestos en el semillero el { $date }
}, a { $holes }
transplant-line-on-hand = { $plants }, de los plantones que ya hay, a { $holes }
transplant-line-on-hand-sown = { $plants }, de los plantones que ya hay, { $kind ->
    [seed] de la siembra del { $date }
   *[other] puestos en el semillero el { $date }
}, a { $holes }
transplant-line-for-seed = { $plants }, de la siembra del { $date }, a { $holes } (se deja espigar para sacar semilla: no se cosecha)
transplant-hint-spares = Guarda los que sobren en el semillero por si alguno falla los primeros días; cómelos o haz compost con ellos cuando haga falta el sitio.
transplant-hint = Coloca cada canastilla de modo que las raíces o el taco toquen el agua, y elige los plantones más fuertes.

## Sembrar

sow = Sembrar
count-cups = { $n ->
    [one] { $n } canastilla
   *[other] { $n } canastillas
}
sow-starts = Poner en el semillero
sow-and-starts = Sembrar y poner en el semillero
sow-line-cups = { $crop }: { $cups }, para trasplantar el { $date }
sow-line-seeds = { $crop }: { $seeds }, 1 por alvéolo, para tener { $cups } al trasplantar el { $date }
sow-line-cells = { $crop }: { $cells ->
    [one] { $each } en un alvéolo
   *[other] { $cells } alvéolos, { $each } en cada uno
}, para tener { $cups } de { $plants } plantas al trasplantar el { $date }
sow-line-short = { $line }; el semillero no tiene sitio para más reservas: bastan en { $n } de cada 20 siembras así
sow-hint = Estas cantidades cuentan con la semilla que no nace: 19 de cada 20 siembras dan suficiente si la línea no dice otra cosa. Una canastilla de varias plantas vale con dos tercios de ellas. Mantenlas húmedas, no encharcadas, y dales luz en cuanto asomen.
sow-too-warm = Hace aquí demasiado calor para la semilla de { $crops }, que germinaría poco: déjala germinar tres días en un sitio fresco, a menos de { $below }, y ponla después en su sitio y a la luz.
sow-hint-thin = Si en un alvéolo nacen más plantas de las que lleva una canastilla, corta a ras del sustrato las más débiles cuando salgan las primeras hojas verdaderas; al tirar de ellas se rompen las raíces de las otras.
sow-hint-cutting = Esquejes: corta puntas del largo de un dedo de una planta sana, con un cuchillo limpio y justo debajo de una hoja; quita las hojas de abajo y mantenlos húmedos, tapados y sin luz fuerte hasta que echen raíces.
sow-hint-plug = Plantones con cepellón: lava la tierra de las raíces con agua limpia, quita hojas viejas y estolones, y deja la corona justo por encima del sustrato.

## Revisar

band = CE { $ec } mS/cm, pH { $ph }
band-short = CE { $ec }, pH { $ph }
check = Revisar { $what }
check-leaving = Llenar el depósito antes de salir de viaje; revisar { $what }
check-what-nursery = los plantones
check-what-all = nivel, CE y pH
check-loop = { $loop }: repón agua antes de que baje de { $least }; { $band }
check-loop-no-band = { $loop }: repón agua antes de que baje de { $least }. Ninguna CE ni pH conviene a todo lo que hay aquí: véanse las fichas de los cultivos.
check-ec = { $loop }: CE alta: añade { $water } de agua sola por cada 0,1 de más (¿depósito lleno? saca antes otro tanto). CE baja: añade { $stock } de concentrado por cada 0,1 de menos
check-ec-unknown-stock = { $loop }: CE alta: añade { $water } de agua sola por cada 0,1 de más (¿depósito lleno? saca antes otro tanto). CE baja: añade concentrado poco a poco
check-ec-strong-water = { $loop }: CE alta: tu agua es demasiado salina para bajarla, así que cambia parte de la solución o añade agua de lluvia. CE baja: añade { $stock } de concentrado por cada 0,1 de menos
check-ec-strong-water-unknown-stock = { $loop }: CE alta: tu agua es demasiado salina para bajarla, así que cambia parte de la solución o añade agua de lluvia. CE baja: añade concentrado poco a poco
check-nursery = Semillero: mantén húmedos los plantones.
check-rig = La bomba funciona, sale agua de todos los tubos, las raíces están blancas y no huelen mal.
check-away = No hay nadie desde el { $from } hasta el { $until }: llena el depósito hasta arriba y pide a alguien que eche un vistazo, sobre todo si hace calor.
check-away-nursery = No hay nadie desde el { $from } hasta el { $until }: pide a alguien que mantenga húmedos los plantones.
check-seedlings-left = Entretanto quedan plantones en el semillero: empapa sus alvéolos antes de irte, pon la bandeja al abrigo del sol fuerte y pide a alguien que los humedezca cada dos días; una tapa que guarde la humedad ayuda unos días.
check-falls-low = { $loop } baja de la línea de reposición el { $date } y llega a { $litres }
check-falls-dry = { $loop } baja de la línea de reposición el { $date }, luego se vacía, y a sus plantas les faltan unos { $litres }
check-will-not-last = Un depósito lleno no durará tanto: { $falls }. Que alguien reponga agua entretanto, o pon al lado un depósito mayor.
check-hint = Cuidado: desenchufa la bomba antes de meter las manos en el agua. Corrige el pH poco a poco; el ácido al agua, nunca el agua al ácido; guantes y gafas.

## Relevo de temporada

swap = Relevo de cultivos:
swap-turn = { $to } tras { $from }
swap-line-today = { $want }: { $to } desde hoy, en lugar de { $from } (se recoge hoy por última vez)
swap-line-past = { $want }: { $to } desde hoy, en lugar de { $from } (recogida por última vez el { $date })
swap-line-later = { $want }: { $to } desde hoy, en lugar de { $from } (sigue hasta el { $date })

## The page and the sheet

page-report-title = El plan del año
page-skip = Ir al plano
page-contents = En esta página
page-glance = De un vistazo
page-map-title = Plano de la instalación
page-no-script = Para recorrer los días hay que activar JavaScript; el dibujo muestra un solo día.
page-day-shown = Día mostrado
page-week-back = Semana anterior
page-day-back = Día anterior
page-play = Reproducir
page-day-on = Día siguiente
page-week-on = Semana siguiente
page-go-to = Ir a
page-keys = En la barra: las flechas avanzan por días, Re Pág y Av Pág por semanas. En un hueco: las flechas van al hueco de al lado.
page-touch-a-hole = Toca un hueco para leer qué hay en él.
page-legend-due = se cosecha esta semana
page-legend-empty = hueco vacío
page-legend-clean = ese día se limpia a fondo el tubo
page-to-scale = Dibujado a escala: cada círculo es tan ancho como la planta ese día.
page-picture-of = Dibujo de
page-from-above = visto desde arriba
page-from-front = visto de frente
page-unrolled = desarrollada, caras contiguas
page-front = delante
page-floor = abajo está el suelo
page-face = cara
page-chores-title = Qué hacer
page-chores-hint = Las marcas quedan en este dispositivo. No son tu diario.
page-harvest-title = Qué se cosecha
page-chart-of = Gráfico de
page-table-of = Tabla de
page-as-table = Semana a semana, en una tabla
page-week = Semana
page-from-monday = Desde el lunes
page-wanted = Deseado
page-harvested = Cosechado
page-remark = Nota
page-key-full = cosecha de una semana, todo lo deseado
page-key-short = cosecha de una semana, menos de lo deseado
page-key-wanted = deseado
page-key-ceiling = lo máximo que daría la instalación renunciando a todo lo demás (solo si queda cerca)
page-at-most = Como mucho
page-would-help = Qué ayudaría (recalculado en cada caso)
page-key-rest = no cuenta
page-log-title = Cómo ha ido hasta ahora
page-log-until = Según el diario, hasta el { $day }
page-log-wants = Lo cosechado hasta ahora frente a lo deseado
page-want = Objetivo
page-wanted-so-far = Deseado hasta ahora
page-log-met = Cubierto
page-log-met-told = { $harvested } cosechados hasta ahora de { $wanted } deseados
page-log-days = Días hasta la cosecha, vistos y previstos
page-log-sown = Celdas sembradas
page-log-set-out = Trasplantadas
page-log-taken = Cosechadas
page-days-seen = Días vistos
page-days-planned = Días previstos
page-pace = Ritmo
page-pace-hint = Los días van del trasplante a la primera cosecha, de media. El ritmo dice cuántas veces más de lo que indica su ficha se calcula ahora que tarda un cultivo.
page-log-losses = Plantas perdidas
page-lost-in-nursery = En el semillero
page-come-through = Salen adelante, probablemente
page-lost-in-holes = En los huecos
page-causes = Por qué
page-lost-of = { $lost } de { $all }
page-from-to = del { $least } al { $most }
page-cause = { $why }: { $n }
page-cause-not-said = sin indicar: { $n }
page-log-water = Agua gastada frente a la calculada
page-loop = Circuito
page-put-in = Rellenado
page-times = Veces
page-used-a-day = Gasto al día
page-computed-a-day = Calculado
page-last-filled = Solución nueva
page-last-ec = Última CE
page-last-ph = Último pH
page-reading = { $number } el { $day }
page-log-water-hint = De un depósito lleno al siguiente. Se calcula con lo que había plantado y el tiempo de un año normal: si se gasta mucho más, puede haber una fuga; si mucho menos, quizá no se llenó el depósito hasta la marca.
page-stays-title = El año hueco a hueco
page-stays-hint = Una fila por hueco, de izquierda a derecha por las semanas. Toca un punto para ver ese día en el mapa.
page-key-sow = siembra en el semillero
page-key-transplant = trasplante al hueco
page-key-cut = corte o recogida
page-key-harvest = última cosecha y retirada
page-key-clean = tubo vaciado y fregado
page-stays-in = Plantas en
page-stays-label = Lo mismo está en la tabla de abajo.
page-stays-table = Todas las plantas, en una tabla
page-year-title = Luz, calor y días hasta la cosecha
page-days-title = Días desde el trasplante hasta madurar
page-set-out = Trasplante hacia el 11 de
page-days-hint = Una palabra en vez de un número dice por qué no saldría nada de una planta puesta entonces.
page-temperature = Temperatura donde están las plantas
page-light = Luz que las hojas aprovechan
page-water-title = El agua de los depósitos
page-level = Nivel del depósito al final de cada día
page-level-told = mínimo { $lowest } (línea de reposición { $least }); se repone agua { $top-ups } veces, se renueva la solución { $fillings } (marcas)
page-used = Agua que gastan las plantas en un día
page-used-told = { $mean } de media, { $most } el día de mayor consumo
page-supplies-title = Semilla y materiales
page-seed-list = Semillas que comprar
page-crop = Cultivo
page-seeds = Semillas
page-seeds-there = { $all } ({ $there } ya en casa)
page-cups = Canastillas
page-first-sowing = Primera siembra
page-last-sowing = Última siembra
page-keeps = Se conserva
page-keeps-not = no se conserva
page-years = { $n ->
    [one] { $number } año
   *[other] { $number } años
}
page-findings-title = Avisos y precauciones
page-nothing-found = Nada lo impide: todos los cultivos deseados caben en esta instalación.
page-take-care = Precauciones
page-each-check = En cada revisión
page-each-deep-clean = En cada limpieza a fondo
page-notes = Notas
page-nothing-to-do = Esta semana no hay nada que hacer.
page-sheet-no-map = Tantos huecos no se leerían aquí: mira el mapa en report.html o con `steadyleaf map`.
page-sheet-names = El nombre de un hueco es su tubo y su número: deck-2-5 es el hueco 5 del tubo deck-2.
page-sheet-care = Enchufes secos, por encima del agua y tras un interruptor diferencial. Guantes y gafas con ácidos, lejía y sales; el ácido al agua, nunca con lejía; todo bajo llave, lejos de los niños. Tapa en cada depósito. Manos y herramientas limpias; tira lo que huela o se vea mal. Las normas locales y los profesionales autorizados prevalecen.
page-open-holes = huecos ocupados de media, { $most } el día más lleno
page-of-holes = de { $all }
page-a-week = por semana de media; objetivo: { $each }
page-met = { $percent } del objetivo
page-holes = Huecos
page-leanest = Semana más floja: { $week }, { $amount }.
page-no-week-counts = No habrá cosecha.
page-average-told = { $average } por semana de media; objetivo: { $each }, cumplido al { $percent }.
page-bound = Ningún plan para esta instalación podría ser más de un { $gap } % mejor.
page-not-counted = No se espera cosecha: { $stretches }: { $why }
page-stretch = { $weeks } desde el { $day }
page-week-name = Semana { $week }
page-span-told = { $from } a { $to }
page-mixed = Circuito { $loop }: se renueva la solución { $fillings } veces y se repone agua { $top-ups } veces, { $litres } de agua en total.
page-stock = Concentrado de nutrientes para ello: unos { $stock }.
page-cups-told = { $n } tacos de sustrato (sin reservas)
page-rest-before = aún no hay nada maduro
page-rest-not-wanted = no se desea
page-rest-out = fuera de temporada
page-rest-nobody = no hay nadie
page-rest-nobody-to-plant = estás fuera el día de sembrar o trasplantar
page-too-cold = frío
page-too-hot = calor
page-bolts = espiga
page-too-dark = oscuro
page-not-in-time = tarde
page-nobody = nadie
page-temperature-told = de { $low } la noche más fría a { $high } la tarde más cálida, día y noche de un año normal
page-light-told = de { $low } a { $high } al día
page-made-told = Hecho por { $maker } para { $garden }. Planifica; no inspecciona tu instalación.
page-map-on = La instalación el { $day }
page-away-told = No hay nadie desde el { $from } hasta el { $to }.
page-weeks = { $n ->
    [one] { $n } semana
   *[other] { $n } semanas
}
page-things = { $n ->
    [one] { $n } tarea
   *[other] { $n } tareas
}
page-heads = { $n ->
    [one] { $number } pieza
   *[other] { $number } piezas
}
page-date = { $weekday } { $day } { $month } { $year }
page-short-date = { $day } { $month }

# What the page's script says.
script-stands = { $hole }: { $crop }, desarrollo: { $percent } %, { $wide } de ancho, se retira el { $out }
script-empty = { $hole }: vacío
script-due = se cosecha esta semana
script-for-want = para { $want }
script-sown = Siembra
script-started = En el semillero desde
script-set = Trasplante
script-grown = Desarrollo
script-wide = Ancho
script-next-harvest = Próxima cosecha
script-out = Se retira
script-then = Después aquí
script-nothing = nada previsto
script-free = Vacío este día.
script-pause = Pausa
script-hole = Hueco
script-crop = Cultivo
script-harvests = Cosechas
script-on-hand = plantón que ya había
script-week = semana { $week } de { $year }

## Hallazgos y lo que ayudaría

month-and-year = { $month } de { $year }
told-short = { $want }: cumplido al { $percent }. { $weeks }
told-most = Lo máximo que daría la instalación en { $month } renunciando a todo lo demás: { $amount } por semana.
told-short-weeks = En { $n ->
    [one] { $n } semana con falta
   *[other] { $n } semanas con falta
} { $why }.
told-short-weeks-of = En { $first } de { $n } semanas con falta { $why }{ $rest }.
told-short-weeks-besides = ; en { $n } { $why }
told-limit-holes = todos los huecos están ocupados
told-limit-solution = en el circuito hay cultivos que piden otra solución
told-limit-another-want = los huecos están ocupados, sobre todo para otros objetivos (una `importance` mayor lo cambiaría)
told-limit-nursery = quedan huecos libres, pero no alvéolos en el semillero
told-limit-space = quedan huecos libres, pero las plantas vecinas son demasiado anchas
told-limit-cleaning = quedarían huecos libres si no se limpiaran a fondo sus tubos
told-limit-season = la época del año deja pocos días para trasplantar
told-limit-absence = estás fuera el día de sembrar o trasplantar
told-limit-too-late-to-sow = ya es tarde para sembrar: solo plantas jóvenes, compradas o regaladas y trasplantadas ahora, podrían madurar a tiempo
told-limit-too-late = ya es tarde: nada más que se siembre o trasplante maduraría a tiempo
told-limit-none = otra planta costaría más de lo que da
told-help = { $change }: { $gains }.
told-gain-more = { $amount } más de { $want } por semana
told-gain-less = { $amount } menos de { $want } por semana
told-change-tube = un tubo más como { $like }, de { $holes }
told-change-nursery = { $n ->
    [one] { $n } alvéolo
   *[other] { $n } alvéolos
} más en el semillero
told-change-cleaning = { $n ->
    [one] { $n } día más
   *[other] { $n } días más
} de margen para la limpieza
told-change-crop = { $crop } como otro cultivo para { $want }
told-too-tall = { $crop } en { $bank }: crece hasta { $height } y encima hay { $headroom }; { $which }.
told-too-tall-all = no cabe en ninguno de sus huecos
told-too-tall-some = no cabe en { $n } de sus { $of } huecos
told-never = { $crop } en { $bank }: { $why }.
told-never-seedlings = sus plantones nunca están listos a tiempo
told-never-cold = hace demasiado frío siempre que podrías plantarlo
told-never-hot = hace demasiado calor siempre que podrías plantarlo
told-never-bolts = se espigaría siempre que podrías plantarlo
told-never-dark = hay muy poca luz siempre que podrías plantarlo
told-never-in-time = no maduraría antes del final del plan
told-never-nobody = se estropearía antes de que haya alguien para cosecharlo
told-never-several = siempre que podrías plantarlo algo se lo impide: { $reasons }
told-reason-cold = el frío
told-reason-hot = el calor
told-reason-bolts = el espigado
told-reason-dark = la falta de luz
told-reason-in-time = el final del plan
told-reason-nobody = que no hay nadie para recogerlo
told-nothing-for = { $want }: ninguno de sus cultivos puede crecer aquí tal como está la instalación.
told-solutions-differ = { $a } y { $b } necesitan { $bands }, así que nunca están a la vez en un mismo circuito.
# $why: one of the told-not-kept texts that follow.
told-not-kept = { $crop } para semilla en { $hole } queda fuera: { $why }.
told-not-kept-blocked = el hueco está bloqueado
told-not-kept-taken = lo que hay ahí no deja sitio antes del { $until }, cuando su semilla debería estar madura
told-not-kept-no-seedling = ningún plantón puede estar listo antes del { $until }, cuando su semilla debería estar madura
told-ec = CE { $least }-{ $most }
told-ph = pH { $least }-{ $most }
told-pump-rating = la bomba da { $value } según su placa; lo recomendable es { $limit }, el doble del caudal de sus tubos
told-pump-lift = la bomba eleva { $value }; lo recomendable es { $limit }, la altura de { $rises } y un cuarto más
told-stream-flow = cada tubo recibe { $value }; lo recomendable es de { $limit } a { $more }
told-hose-speed = el agua corre por la manguera a { $value }; por encima de { $limit }, una más ancha ahorra altura y ruido
told-tank-size = en el depósito cabe { $value } veces el agua de los tubos; lo recomendable es de { $limit } a { $more } veces
told-tank-lasts = un depósito lleno baja a la línea de reposición en { $value } días, con todos los huecos llenos el día de mayor consumo; entre tus días de trabajo pasan hasta { $limit } días
told-floor-load = el depósito lleno ejerce sobre el suelo una carga de { $value }; muchos suelos de vivienda se hacen para { $limit }: pregunta a un profesional autorizado
told-drain-bore = los desagües tienen { $value } de ancho; lo recomendable es { $limit } o más, pues entran raíces y hojas
told-drain-slope = los desagües tienen una pendiente del { $value } %; lo recomendable es un { $limit } % o más
told-drain-overflows = a los desagües les llega { $value } veces lo que llevan, y los tubos rebosarían: más anchos, más inclinados o más de ellos
told-drain-fill = los desagües van llenos al { $value } %; lo recomendable es hasta el { $limit } %, para que pase aire
told-source-water = tu agua tiene ya una CE de { $value } mS/cm; hasta { $limit } deja sitio a los nutrientes
told-top-up-water = las plantas toman cerca de CE { $limit } mS/cm con lo que beben, y tu agua tiene { $value }: al reponer con ella la solución no se concentra
told-top-up-climbs = tu agua tiene CE { $value } mS/cm, más de lo que las plantas toman con lo que beben, cerca de { $limit }: la solución se concentra por mucha agua que se reponga; mezcla agua de lluvia o renuévala más a menudo
told-open-tank = el depósito está abierto: con luz crecen algas, crían mosquitos, y un niño o un animal puede ahogarse en él; ponle una tapa
told-solutions-not-shared = { $n ->
    [one] { $n } pareja
   *[other] { $n } parejas
} de los cultivos deseados no pueden compartir solución: el plan nunca los tiene a la vez en este circuito
told-solution-shared = todos los cultivos deseados comparten solución
told-tube-fill = los tubos van llenos al { $value } %; lo recomendable es cerca del { $limit } %
told-tube-fill-low = los tubos van llenos al { $value } %; lo recomendable es cerca del { $limit } %, o las raíces jóvenes cuelgan en el aire sobre el agua
told-wall-gap = los tubos de esta pared están a { $value } unos de otros; lo usual es de { $least } a { $limit }, y más es sitio que ninguna planta necesita
told-tube-gap = los tubos están a { $value } unos de otros; lo recomendable es { $limit } o más
told-power-cut = si falla la bomba, las raíces siguen mojadas unas { $time } { $when }
told-power-cut-dry = si falla la bomba, las raíces empiezan a secarse antes de una hora { $when }: piensa en una bomba de repuesto y una batería
told-when-full = (en el peor caso: el día de mayor consumo, con todos los huecos llenos)
told-when-thirstiest = (en el peor caso, el { $day })
told-hours = { $n ->
    [one] { $n } hora
   *[other] { $n } horas
}
told-days = { $n ->
    [one] { $n } día
   *[other] { $n } días
}
told-weight = { $value } con agua hasta el borde y todos los huecos plantados, { $each } por cada { $per ->
    [foot] pie
   *[metre] metro
} de tubo
told-low = Un depósito lleno no basta { $days }: { $falls }. Pide a alguien que lo llene o usa un depósito mayor.
told-low-many = Un depósito lleno no basta de un día de trabajo al siguiente { $n } veces del { $from } al { $until }, en el peor caso { $days }: { $falls }. Repón agua más días o usa un depósito mayor.
told-low-on = el { $day }
told-low-from-until = del { $from } al { $until }
told-low-falls = baja a { $lowest }, por debajo de la línea de reposición
told-low-dry = se vacía
told-low-lacking = { $level }, y a sus plantas les faltan { $lacking }
told-too-strong = En { $n ->
    [one] un día
   *[other] { $n } días
} la CE será alta se reponga lo que se reponga; el peor día, { $day }: { $ec } mS/cm (máximo { $suits }). Un depósito mayor, mirar más días o un agua más blanda, como la de lluvia, la contienen.
told-from-half-the-aim = la mitad de la CE que se busca, práctica común
told-from-estimate = estimación nuestra
told-from-drain-standard = EN 12056-2 para desagües interiores, de memoria
told-from-floor-standard = EN 1991-1-1, suelos de viviendas, de memoria; las normas nacionales difieren
told-from-licensed = un profesional autorizado dice lo que aguanta el sitio

## Cautions

caution-electricity-indoors = Electricidad: bomba, lámparas y agua comparten el cuarto. Enchúfalas tras un interruptor diferencial, mantén enchufes y tomas por encima y lejos del agua, y deja que cada cable cuelgue en un bucle que gotee antes de llegar a la toma. La instalación fija es cosa de un electricista autorizado.
caution-electricity-outdoors = Electricidad: bomba y agua están juntas, y llegan lluvia, salpicaduras y rocío. Enchufa la bomba tras un interruptor diferencial, mantén los enchufes secos y lejos del suelo, deja que cada cable cuelgue en un bucle que gotee antes de llegar a la toma, y usa solo lo que sea apto para exteriores. La instalación fija es cosa de un electricista autorizado.
caution-weight = Peso: un litro de agua pesa un kilogramo, además de depósito, tubos y plantas. Antes de cargar una pared, azotea, balcón o estante, haz que lo revise un profesional autorizado.
caution-towers = Torres: una torre llena puede volcar. Sujétala por la cabeza y el pie, sobre todo donde haya viento o niños.
caution-walls = Paredes: los tubos llenos de agua tiran de sus soportes. Usa fijaciones hechas para esa pared y esa carga, y míralas en cada limpieza a fondo.
caution-chemicals = Ácidos, lejía y sales: usa guantes y gafas, echa el ácido al agua y nunca el agua al ácido, no mezcles nunca ácido con lejía, y guárdalo todo bajo llave, lejos de los niños. Sigue la etiqueta y las normas locales para desecharlo.
caution-open-water = Agua abierta: un niño pequeño puede ahogarse en unos centímetros. Mantén una tapa sobre el depósito.
caution-food = Alimentos: lávate las manos, cosecha con herramientas limpias, enjuaga las hojas con agua potable, mantén lejos a los animales y tira lo que huela o se vea mal.
caution-frost = Heladas: los tubos a medio llenar, la manguera, la bomba y el depósito se hielan y revientan, y el agua del deshielo corre hacia los enchufes. Antes de noches de helada calienta la instalación, o desenchúfalo y vacíalo del todo; el hielo en el suelo resbala.
caution-lifting = Cargas: un cubo de diez litros pesa diez kilogramos. Llena el depósito donde está.
caution-codes = Las normas locales y los profesionales autorizados prevalecen sobre cualquier cosa que diga este programa.
