import { listed } from '../listed.ts'
import { plural } from './plural.ts'

type Which = 'all' | 'the others' | 'named'

interface BesideSaid {
  readonly name: string
  readonly times: string
  readonly range: string | null
}

interface EndSaid {
  readonly name: string
  readonly times: string
}

type Measure = 'weight' | 'work' | 'cost'

const alle = (names: readonly string[]) => listed(names, 'und')
const zahlen = [
  'keine',
  'eine',
  'zwei',
  'drei',
  'vier',
  'fünf',
  'sechs',
  'sieben',
  'acht',
  'neun',
  'zehn',
  'elf',
  'zwölf',
]
const zahl = (n: number) => zahlen[n] ?? String(n)
const saisonen = (n: number) => plural(n, { one: 'eine Saison', other: `${zahl(n)} Saisonen` })
const upper = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

const von: Record<Measure, (reference: string) => string> = {
  weight: (reference) => `des Gewichts je Quadratmeter von ${reference}`,
  work: (reference) => `der Stunden je Quadratmeter von ${reference}`,
  cost: (reference) => `dessen, was ${reference} für ein Kilogramm ausgab`,
}
const tat: Record<Measure, readonly [string, string]> = {
  weight: ['gab', 'gaben'],
  work: ['brauchte', 'brauchten'],
  cost: ['gab', 'gaben'],
}
const nach: Record<Measure, string> = {
  weight: 'nach Gewicht',
  work: 'nach Stunden',
  cost: 'nach Betriebsmitteln für ein Kilogramm',
}
const nachAllen = (measures: readonly Measure[]) =>
  listed(
    measures.map((measure) => nach[measure]),
    'oder',
  )
const verb = (names: readonly string[], measure: Measure) => tat[measure][plural(names.length, { one: 0, other: 1 })]
const mehr = (measure: Measure, way: 'more' | 'less', reference: string | null) => {
  const much = way === 'more' ? 'mehr' : 'weniger'
  const als = reference === null ? '' : ` als ${reference}`
  if (measure === 'work') return `${much} Arbeit${als}`
  return measure === 'weight' ? `${much}${als}` : `${much} für ein Kilogramm aus${als}`
}
const aus = (measure: Measure) => (measure === 'cost' ? ' aus' : '')

export const summary = {
  nothing: 'Noch gibt es nichts zu vergleichen',
  nothingSay: 'Es braucht eine Saison und eine Kultur, die unter zwei Anbauweisen stand und geräumt ist.',
  title: {
    told: (
      measure: Measure,
      way: 'more' | 'less',
      names: readonly string[],
      others: number,
      reference: string | null,
    ) =>
      `${names.length === others && others > 2 ? `Alle ${zahl(others)}` : alle(names)} ${verb(names, measure)} ` +
      `${mehr(measure, way, reference)}`,
    both: (measure: Measure, names: readonly string[], reference: string) =>
      `${alle(names)} ${plural(names.length, { one: 'weicht', other: 'weichen' })} ${nach[measure]} von ` +
      `${reference} ab, teils ` +
      'nach oben, teils nach unten',
    untold: (measure: Measure, others: number, open: boolean) =>
      open
        ? `${nach[measure]} sind ${plural(others, { one: 'die beiden', other: 'sie' })} nicht zu unterscheiden, ` +
          'solange Wochen ' +
          'offen sind'
        : plural(others, {
            one: `${nach[measure]} waren die beiden nicht zu unterscheiden`,
            other: `${nach[measure]} war von den ${zahl(others)} nichts zu unterscheiden`,
          }),
    carried: (crop: string) => `getragen von ${crop}`,
    failed: (measure: Measure) => `${nach[measure]} lässt eine Saison ohne Ertrag kein Intervall`,
    described: (measures: readonly Measure[]) =>
      `${nachAllen(measures)} kann eine Saison die Gärten nicht unterscheiden`,
    refused: (measures: readonly Measure[]) => `${nachAllen(measures)} sind die Gärten noch nicht zu vergleichen`,
    alike: (measure: Measure) => `${nach[measure]} gleich innerhalb dessen, was als wichtig festgelegt war`,
  },
  upper,
  few: (measure: Measure, own: readonly BesideSaid[], reference: string) =>
    alle(
      own.map((one) => {
        const range = one.range === null ? '' : ` (${one.range})`
        return `${one.name} ${tat[measure][0]} etwa das ${one.times}-Fache${range}`
      }),
    ) + ` ${von[measure](reference)}${aus(measure)}`,
  many: (
    measure: Measure,
    names: readonly string[] | null,
    [low, high]: readonly [EndSaid, EndSaid],
    { reference, count: n }: { reference: string; count: number },
  ) =>
    `${names === null ? `alle ${zahl(n)}` : alle(names)} ${tat[measure][1]} zwischen dem ${low.times}- ` +
    `(${low.name}) und dem ${high.times}-Fachen (${high.name}) ${von[measure](reference)}${aus(measure)}`,
  untold: (
    measure: Measure,
    names: readonly string[],
    [low, high]: readonly [string, string],
    { reference, which, first }: { reference: string; which: Which; first: boolean },
  ) =>
    which === 'named' && !first
      ? `bei ${alle(names)} war nichts zu unterscheiden: alles vom ${low}- bis zum ${high}-Fachen`
      : which === 'the others'
        ? 'bei ' +
          plural(names.length, { one: 'dem anderen', other: `den anderen ${zahl(names.length)}` }) +
          ` war nichts zu unterscheiden: alles vom ${low}- bis zum ${high}-Fachen`
        : (which === 'all'
            ? `von den ${zahl(names.length)} war ${nach[measure]} nichts`
            : `${alle(names)} ${plural(names.length, { one: 'war', other: 'waren' })} ${nach[measure]} nicht`) +
          ` von ${reference} zu unterscheiden: alles vom ${low}- bis zum ${high}-Fachen passt`,
  open: (measure: Measure, names: readonly string[], reference: string) =>
    `${alle(names)} ${plural(names.length, { one: 'ist', other: 'sind' })} ${nach[measure]} nicht von ${reference} ` +
    'unterschieden, solange Wochen offen sind: sie könnten es umkehren',
  unsayable: (measure: Measure, names: readonly string[], seasonsSeen: number, reference: string | null) =>
    reference === null
      ? `zu wenige Saisonen für ${alle(names)}`
      : `${saisonen(seasonsSeen)} ${plural(seasonsSeen, { one: 'kann', other: 'können' })} ${alle(names)} ` +
        `${nach[measure]} nicht ` +
        `von ${reference} unterscheiden`,
  carried: (name: string | null, crops: readonly string[]) =>
    crops.length > 3
      ? `${name === null ? '' : `bei ${name} `}wäre es ohne eine beliebige von ${crops.length} Kulturen nicht zu ` +
        'erkennen'
      : `${name === null ? 'es tragen' : `bei ${name} tragen es`} ${alle(crops)}, ohne die es nicht zu erkennen wäre`,
  failed: (measure: Measure, name: string, times: string, seasonsSeen: number, reference: string) =>
    `von ${name} oder ${reference} kam in einer Saison nichts: über ${saisonen(seasonsSeen)} ${tat[measure][0]} ` +
    `${name} etwa das ${times}-Fache ${von[measure](reference)}${aus(measure)}, ein Intervall gibt es nicht`,
  alike: (measure: Measure, names: readonly string[], low: string, high: string, reference: string) =>
    `${alle(names)} und ${reference} sind ${nach[measure]} gleich innerhalb dessen, was vorher als wichtig ` +
    `festgelegt war (${low}- bis ${high}-Faches)`,
  refused: (measures: readonly Measure[], names: readonly string[]) =>
    names.length === 0 ? '' : `${alle(names)}: nicht zu vergleichen ${nachAllen(measures)}`,
  limits: {
    'these people': 'wie diese Leute arbeiten',
    'own crops': 'jeder Garten mit seinen eigenen Kulturen',
    'few seasons': 'nur über wenige Saisonen',
    'one season': 'wie sicher das ist, kann eine Saison nicht sagen',
  },
  sureTitle: 'Wie sicher',
  aboutGardens: 'Wie sicher über diese Gärten',
  aboutMethods: 'und über die Anbauweisen',
  sureGardens: (levels: readonly string[], because: string | null, work: number, cost: number): string[] => [
    ...(levels.length > 0 ? [`Gewicht: ${levels.join(' bis ')}${because === null ? '' : ` (${because})`}`] : []),
    ...(work > 0 ? [`Arbeit: ${saisonen(work)}, fast ganz abgeschlossen`] : []),
    ...(cost > 0 ? [`Betriebsmittel: ${saisonen(cost)}, alle mit Preis`] : []),
  ],
  sureOneSeason: 'eine Saison hat kein Intervall',
  sureMethods: (levels: readonly string[]) => `${levels.join(' bis ')}, danach, wie das Land aufgeteilt war`,
  oneGarden: 'nicht zu sagen: ein Garten je Anbauweise, Boden und Anbauweise kommen zusammen',
  notCarried: 'nicht zu sagen: die Anlage trägt es nicht',
  levels: { 'very low': 'sehr gering', low: 'gering', moderate: 'mäßig', high: 'hoch' },
  rests: (
    n: number,
    crops: { count: number; fewer: boolean; singly: boolean },
    plantings: string,
    closed: string,
    weeks: string,
  ) =>
    `${upper(saisonen(n))}, ` +
    (crops.singly
      ? 'gepaarte Kulturen nur in einzelnen Saisonen'
      : crops.count === 0
        ? 'keine gepaarte Kultur'
        : plural(crops.count, {
            one: '1 gepaarte Kultur',
            other: `${crops.fewer ? 'bis zu ' : ''}${crops.count} gepaarte Kulturen`,
          })) +
    `, ${plantings} Pflanzungen, ${closed} von ${weeks} Gartenwochen abgeschlossen.`,
  price: (own: readonly { name: string; price: string; low: string; high: string }[]) =>
    'Eine gesparte Stunde kostete ' +
    `${alle(own.map((one) => `in ${one.name} ${one.price} an Betriebsmitteln (${one.low}–${one.high})`))}`,
  priceLess: (names: readonly string[]) =>
    `${alle(names)} ${plural(names.length, { one: 'sparte', other: 'sparten' })} Stunden und ` +
    `${plural(names.length, { one: 'gab', other: 'gaben' })} auch weniger aus`,
  priceSay: 'ohne die Ernte gerechnet',
  settleTitle: 'Was es klären würde',
  settle: (n: number | 'over sixty' | 'not by seasons' | null, gardens: number) => {
    const anbauweisen = `zwischen den Anbauweisen je ${zahl(gardens)} Gärten, ausgelost.`
    if (n === 'not by seasons') return upper(anbauweisen)
    const between =
      n === null
        ? 'Zwischen diesen Gärten ist eine zweite Saison der erste Schritt'
        : 'Zwischen diesen Gärten braucht es ' +
          (n === 'over sixty' ? 'mehr als sechzig Saisonen' : `etwa ${saisonen(n)}`) +
          ' wie diese, um nach Gewicht ein Viertel zu unterscheiden'
    return `${between}; ${anbauweisen}`
  },
}
