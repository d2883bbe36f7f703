import { asShown } from '../../lookups/unsaid.ts'
import { formatNumber } from '../../quantities/formatting.ts'
import type { Caution, LeftOutSaid, RestsOn } from '../en/findings.ts'
import { listed } from '../listed.ts'
import { plural } from './plural.ts'

interface Pair {
  readonly methodA: string
  readonly methodB: string
  readonly gardensA: readonly string[]
  readonly gardensB: readonly string[]
}

interface Range {
  readonly low: number
  readonly high: number
}

const mal = (ratio: number, locale: string) => formatNumber(ratio, locale, 2)
/** Ein Garten mit seiner Anbauweise, oder eine Anbauweise mit ihren Gärten, wo sie auf mehreren liegt. */
const seite = (method: string, gardens: readonly string[]) =>
  plural(gardens.length, { one: `${gardens[0]} (${method})`, other: `${method} (${alle(gardens)})` })
function namen({ methodA, methodB, gardensA, gardensB }: Pair) {
  const allein = gardensA.length === 1 && gardensB.length === 1 && gardensA[0] !== gardensB[0]
  const [a, b] = allein ? [gardensA[0] ?? methodA, gardensB[0] ?? methodB] : [methodA, methodB]
  return { a, b, bei: allein ? 'in' : 'unter' }
}
const beruehrt = ({ low, high }: Range) => [low, high].some((ende) => Math.round(100 * ende) === 100)
const reichweite = (f: Range, locale: string) => `${spanne(f, locale)}${beruehrt(f) ? ', was 1 berührt' : ''}`
const sagtNichts = ({ low, high }: Range) => high / low > 10
const ohneEins = ({ low, high }: Range) => low > 1 || high < 1
const zahlen = ['keine', 'eine', 'zwei', 'drei', 'vier', 'fünf', 'sechs', 'sieben', 'acht', 'neun', 'zehn']
const unsagbar = (seasons: number) =>
  `${zahlen[seasons] ?? seasons} ` +
  plural(seasons, { one: 'Saison kann', other: 'Saisonen können' }) +
  ' es nicht sagen: was zu diesen Zahlen passt, ist weiter als das Zehnfache'
const offen = 'solange Wochen offen sind, sind die beiden nicht unterschieden'
const ueber = ({ seasons, restsOn }: { seasons: number; restsOn?: RestsOn }) =>
  `Über ${saisonen(seasons)}${restsOn && seasons > 1 ? ` (${alle(restsOn.seasons)})` : ''}`
const saisonenGenannt = (f: { seasons: number; restsOn?: RestsOn }) => ueber(f).replace('Über', 'über')
/** Was ein Befund über Anbauweisen vom Unterscheiden sagt: nichts, wo er unterscheidet, sonst warum nicht. */
const unterschieden = (f: Range & { readonly code?: string }) =>
  !ohneEins(f)
    ? '. Kein Unterschied der Anbauweisen war zu erkennen; das heißt nicht, dass sie gleich sind.'
    : f.code?.endsWith('not seen')
      ? `; aber ${offen}.`
      : '.'
const passt = (f: Range & { ratio: number; seasons: number }, locale: string) =>
  sagtNichts(f)
    ? unsagbar(f.seasons)
    : `das Verhältnis war ${mal(f.ratio, locale)}, und alles von ${spanne(f, locale)} passt zu diesen ` +
      `Zahlen${beruehrt(f) ? ', was 1 berührt' : ''}`
const intervall = (f: Range & { level: number }, locale: string) =>
  `${prozent(f.level, locale)}-Intervall ${reichweite(f, locale)}`
const saisonen = (seasons: number) => plural(seasons, { one: '1 Saison', other: `${seasons} Saisonen` })
const kulturen = (crops: number) => plural(crops, { one: '1 gepaarten Kultur', other: `${crops} gepaarten Kulturen` })
const gaerten = 'Das vergleicht diese Gärten; die Anbauweise vom Stück Land trennen kann es nicht.'
const prozent = (level: number, locale: string) => `${formatNumber(100 * level, locale, level === 0.95 ? 0 : 1)}\u00a0%`
const lasten = {
  hoursPerBed: 'Stunden je m² Beet ohne Erntearbeit',
  hoursPerKg: 'Stunden je marktfähigem kg',
  costPerKg: 'Betriebsmittelkosten je marktfähigem kg',
} as const

interface Burden extends Pair, Range {
  readonly code?: string
  readonly burden: keyof typeof lasten
  readonly ratio: number
  readonly level: number
  readonly seasons: number
  readonly restsOn?: RestsOn
}

const nichts = {
  'no crop': 'keine Kultur stand auf allen gepaart und ist geräumt',
  'few places': 'von zu wenigen kam etwas von den gepaarten Kulturen',
  'no measure': 'so wenige Plätze und Saisonen lassen kein Maß dafür, wie sie sich von selbst unterscheiden',
  'no spread':
    'die einer Anbauweise gaben genau gleich viel, was kein Maß dafür ist, wie sich Plätze von selbst unterscheiden',
}
const grade = (df: number) => `${df} ${plural(df, { one: 'Freiheitsgrad', other: 'Freiheitsgrade' })}`
const freiheit: Record<string, ((df: number) => string) | undefined> = {
  gardens: (df) => `${grade(df)}: die Gärten, weniger einen je Anbauweise.`,
  'gardens within sites': (df) =>
    `${grade(df)}: die Gärten, weniger einen je Anbauweise und einen je Ort nach dem ersten.`,
  'split gardens': (df) => `${grade(df)}: die Gärten, jeder mit einem Unterschied seiner Hälften, weniger einen.`,
  uneven: (df) => `${grade(df)}: Gärten mit jeder ihrer Anbauweisen, weniger, was Gärten und Anbauweisen brauchen.`,
  'beds of one garden': (df) => `${grade(df)}: die Beete, weniger eines je Anbauweise.`,
  'blocks of beds': (df) => `${grade(df)}: die Beete, weniger eines je Anbauweise und eines je Block nach dem ersten.`,
  'ground that took turns': (df) =>
    `${grade(df)}, aus Gärten und Saisonen zusammen: jeder Garten in jeder Saison, weniger einen je Garten, je ` +
    'Saison nach der ersten und für die Anbauweise. So viele Gärten sind es nicht.',
}
const handeltVon = (f: { readonly scope: string; readonly seasons: number }) =>
  plural(f.seasons, {
    one: 'Das handelt von dieser einen Saison und sagt nichts über andere.',
    other: asShown(geltung[f.scope]),
  })
const erinnert = (layout: string) =>
  layout === 'ground that took turns'
    ? 'Der Boden trägt die frühere Anbauweise noch jahrelang in sich, was dieses Verhältnis gegen 1 zieht. '
    : ''
const mehrere = { bed: 'Beete', half: 'Anbauweisen', garden: 'Gärten' }
const geschrieben = {
  bed: 'Beet für Beet',
  half: 'für jede Hälfte eines Gartens nach ihren Beeten und nicht für den ganzen Garten',
  garden: 'für jeden Garten einzeln und nicht für mehrere zusammen',
}

const alle = (names: readonly string[]) => listed(names, 'und')
const stoffe: Record<string, string | undefined> = { compost: 'Kompost', mulch: 'Mulch', manure: 'Mist' }
const spanne = (f: Range, locale: string) => `${mal(f.low, locale)} bis ${mal(f.high, locale)}`

export const findings = {
  title: 'Was zu sehen war',
  none: 'Noch ist nichts zu sagen: keine Kultur stand unter zwei Anbauweisen und ist geräumt.',
  reference: (method: string) =>
    `Jede Anbauweise neben ${method}, auf gepaarten Kulturen, in jeder Saison gleich gewogen.`,
  seen: (
    f: Pair & Range & { ratio: number; seasons: number; crops: number; next: Range; level: number; restsOn?: RestsOn },
    locale: string,
  ) => {
    const weiter = sagtNichts(f.next)
      ? 'Was eine weitere Saison gäbe, ist daraus nicht zu sagen.'
      : `Eine weitere Saison wäre zwischen ${mal(f.next.low, locale)} und ${mal(f.next.high, locale)} zu erwarten.`
    return (
      `${ueber(f)} gab ${seite(f.methodB, f.gardensB)} das ${mal(f.ratio, locale)}-Fache des Gewichts je ` +
      `bepflanztem m² von ${seite(f.methodA, f.gardensA)}, bei ${kulturen(f.crops)}; ${intervall(f, locale)}. ` +
      `${weiter} ${gaerten}`
    )
  },
  'not seen': (
    f: Pair &
      Range & {
        ratio: number
        seasons: number
        crops: number
        smallestSeen: number | null
        level: number
        restsOn?: RestsOn
      },
    locale: string,
  ) => {
    const [b, a] = [seite(f.methodB, f.gardensB), seite(f.methodA, f.gardensA)]
    if (ohneEins(f))
      return (
        `${ueber(f)} gab ${b} in den abgeschlossenen Wochen das ${mal(f.ratio, locale)}-Fache des Gewichts je ` +
        `bepflanztem m² von ${a}, bei ${kulturen(f.crops)}; ${intervall(f, locale)}; aber ${offen}. ${gaerten}`
      )
    const klein = f.smallestSeen
    const ungesehen =
      klein === null || klein > 10
        ? ''
        : ` Ein wahres Verhältnis zwischen ${mal(1 / klein, locale)} und ${mal(klein, locale)} wäre oft ungesehen ` +
          'geblieben.'
    return (
      `${ueber(f)} waren ${b} und ${a} nach Gewicht nicht zu unterscheiden, bei ${kulturen(f.crops)}: ` +
      `${passt(f, locale)}.${ungesehen} Das heißt nicht, dass sie gleich sind. ${gaerten}`
    )
  },
  alike: (
    f: Pair &
      Range & { ratio: number; seasons: number; crops: number; marginPercent: number | null; restsOn?: RestsOn },
    locale: string,
  ) =>
    `${ueber(f)} gaben ${seite(f.methodB, f.gardensB)} und ${seite(f.methodA, f.gardensA)} gleich viel innerhalb ` +
    `der ${f.marginPercent}\u00a0%, die die Gruppe vorher als wichtig festgelegt hatte, bei ` +
    `${kulturen(f.crops)}: das Verhältnis war ${mal(f.ratio, locale)}, Intervall ${reichweite(f, locale)}. ` +
    `${gaerten}`,
  'one season': (
    f: Pair & {
      ratio: number
      crops: number
      leavingOut: (Range & { lowWithout: string; highWithout: string }) | null
    },
    locale: string,
  ) =>
    `In dieser einen Saison gab ${seite(f.methodB, f.gardensB)} das ${mal(f.ratio, locale)}-Fache des Gewichts ` +
    `je bepflanztem m² von ${seite(f.methodA, f.gardensA)}, bei ${kulturen(f.crops)}` +
    (f.leavingOut
      ? `; lässt man je eine Kultur weg, ${mal(f.leavingOut.low, locale)} (ohne ${f.leavingOut.lowWithout}) bis ` +
        `${mal(f.leavingOut.high, locale)} (ohne ${f.leavingOut.highWithout})`
      : '') +
    `. Eine Saison hat kein Intervall: wie sicher das ist, ist nicht zu sagen. ${gaerten}`,
  'failed season': (
    f: Pair & {
      seasons: number
      failedA: readonly string[]
      failedB: readonly string[]
      rateA: number
      rateB: number
      ratio: number | null
    },
    locale: string,
  ) => {
    const ausfaelle = [
      ...(f.failedA.length > 0 ? [`von ${seite(f.methodA, f.gardensA)} in ${f.failedA.join('; ')}`] : []),
      ...(f.failedB.length > 0 ? [`von ${seite(f.methodB, f.gardensB)} in ${f.failedB.join('; ')}`] : []),
    ].join(', und ')
    return (
      `Von den gepaarten Kulturen kam nichts ${ausfaelle}. Ausfälle zählen als null, mit ihrer Fläche: über alle ` +
      `${saisonen(f.seasons)} gab ${seite(f.methodB, f.gardensB)} ${mal(f.rateB, locale)} kg je bepflanztem m² und ` +
      `${seite(f.methodA, f.gardensA)} ${mal(f.rateA, locale)}` +
      (f.ratio === null ? '' : `, das ${mal(f.ratio, locale)}-Fache`) +
      `. Eine Saison ohne Ertrag hat kein Verhältnis, also gibt es kein Intervall. ${gaerten}`
    )
  },
  'nothing matched': (f: Pair & { unlikeSeasons?: number }) =>
    f.unlikeSeasons
      ? `${seite(f.methodB, f.gardensB)} und ${seite(f.methodA, f.gardensA)} haben in ${saisonen(f.unlikeSeasons)} ` +
        'gepaarte Kulturen, aber keine in allen davon: Saisonen mit ungleichen Kulturen lassen sich nicht ' +
        'zusammennehmen. Jede Saison für sich hat ihr Verhältnis.'
      : `${seite(f.methodB, f.gardensB)} und ${seite(f.methodA, f.gardensA)} haben keine gepaarte Kultur, die ` +
        'unter beiden geräumt ist: nichts lässt sich Gleiches mit Gleichem vergleichen.',
  'places say nothing': (f: Pair & { why: keyof typeof nichts }) =>
    `${f.methodB} und ${f.methodA} liegen auf je mehreren Plätzen, aber ${nichts[f.why]}: nach Gewicht ist über ` +
    'diese Anbauweisen nichts zu sagen.',
  'labour seen': (f: Burden, locale: string) => {
    const { a, b } = namen(f)
    return (
      `${ueber(f)} brauchte ${b} das ${mal(f.ratio, locale)}-Fache der Stunden von ${a} je m² Beet, ohne ` +
      `Erntearbeit; ${intervall(f, locale)}. Diese Gärten und die Leute, die darin arbeiten, nicht die Anbauweisen ` +
      'allein.'
    )
  },
  'labour not seen': (f: Burden, locale: string) => {
    const { a, b } = namen(f)
    if (ohneEins(f))
      return (
        `${ueber(f)} brauchte ${b} in den abgeschlossenen Wochen das ${mal(f.ratio, locale)}-Fache der Stunden von ` +
        `${a} je m² Beet, ohne Erntearbeit; ${intervall(f, locale)}; aber ${offen}.`
      )
    return (
      `${ueber(f)} waren ${b} und ${a} nach Stunden je m² Beet, ohne Erntearbeit, nicht zu unterscheiden: ` +
      `${passt(f, locale)}.`
    )
  },
  'per kg seen': (f: Burden, locale: string) => {
    const { a, b, bei } = namen(f)
    const was = f.burden === 'hoursPerKg' ? 'der Stunden' : 'der Betriebsmittel'
    return (
      `${ueber(f)} brauchte ein marktfähiges Kilogramm ${bei} ${b} das ${mal(f.ratio, locale)}-Fache ${was} wie ` +
      `${bei} ${a}, mit allem, was dort wuchs; ${intervall(f, locale)}. Ungleiche Kulturen wiegen ungleich: das ` +
      'ist, was diese Gärten kosten, nicht, was eine Anbauweise kostet.'
    )
  },
  'per kg not seen': (f: Burden, locale: string) => {
    const { a, b, bei } = namen(f)
    const was = f.burden === 'hoursPerKg' ? 'Stunden' : 'Betriebsmitteln'
    const brauchte = f.burden === 'hoursPerKg' ? 'der Stunden' : 'der Betriebsmittel'
    if (ohneEins(f))
      return (
        `${ueber(f)} brauchte ein marktfähiges Kilogramm ${bei} ${b} in den abgeschlossenen Wochen das ` +
        `${mal(f.ratio, locale)}-Fache ${brauchte} von ${a}; ${intervall(f, locale)}; aber ${offen}.`
      )
    return (
      `${ueber(f)} waren ${b} und ${a} nach ${was} für ein marktfähiges Kilogramm nicht zu unterscheiden: ` +
      `${passt(f, locale)}.`
    )
  },
  burdenOfMethods: (
    f: Burden & { layout: string; df: number; unitsA: number; unitsB: number; scope: string },
    locale: string,
  ) =>
    `Über die Anbauweisen, ${asShown(anlagen[f.layout]?.(f.unitsA, f.unitsB))}, ${saisonenGenannt(f)}: ` +
    `${lasten[f.burden]} waren unter ${f.methodB} das ${mal(f.ratio, locale)}-Fache von ${f.methodA}; ` +
    `${intervall(f, locale)} bei ${f.df} ` +
    plural(f.df, { one: 'Freiheitsgrad', other: 'Freiheitsgraden' }) +
    `${unterschieden(f)} ${handeltVon(f)}`,
  'only divided': (
    f: Pair & { divided: keyof typeof lasten; each: 'bed' | 'half' | 'garden'; share: number },
    locale: string,
  ) =>
    `${lasten[f.divided]} lassen sich zwischen ${f.methodB} und ${f.methodA} nicht vergleichen: ` +
    `${prozent(f.share, locale)} davon sind für mehrere ${mehrere[f.each]} zusammen geschrieben und nur geteilt. ` +
    'Zum Vergleich müssten ' +
    (f.divided === 'costPerKg'
      ? 'Betriebsmittel'
      : f.divided === 'hoursPerKg'
        ? 'Stunden, auch die der Ernte,'
        : 'Stunden') +
    ` ${geschrieben[f.each]} geschrieben werden.`,
  aboutMethods: (
    f: Pair &
      Range & {
        layout: string
        ratio: number
        level: number
        df: number
        unitsA: number
        unitsB: number
        seasons: number
        crops: number
        scope: string
        code?: string
        restsOn?: RestsOn
      },
    locale: string,
  ) => {
    const where = asShown(anlagen[f.layout]?.(f.unitsA, f.unitsB))
    return (
      `${erinnert(f.layout)}Über die Anbauweisen, ${where}, ${saisonenGenannt(f)} bei ${kulturen(f.crops)}: ` +
      `${f.methodB} gab das ${mal(f.ratio, locale)}-Fache des Gewichts je bepflanztem m² von ${f.methodA}; ` +
      `${intervall(f, locale)} bei ${f.df} ` +
      plural(f.df, { one: 'Freiheitsgrad', other: 'Freiheitsgraden' }) +
      `${unterschieden(f)} ${handeltVon(f)}`
    )
  },
  methodCertainty: {
    thesePlots: (level: string) => `Wie sicher über die Anbauweisen: ${stufen[level] ?? level}.`,
    methodAtSite: (level: string) =>
      `Wie sicher über die Anbauweisen an diesem Ort: ${stufen[level] ?? level}. Über andere Orte sagt es nichts.`,
    methodElsewhere: (level: string) =>
      `Wie sicher über die Anbauweisen auf solchen Gärten: ${stufen[level] ?? level}.`,
  },
  methodInSeason: (level: string) =>
    `Wie sicher über die Anbauweisen in dieser einen Saison: ${stufen[level] ?? level}. Über andere Saisonen ` +
    'sagt es nichts.',
  becauseMethods: 'Nicht sicherer wegen: ',
  methodSteps: {
    'one site': 'ein einziger Ort',
    'by choice': 'gewählte Plätze',
    'by turns': 'Plätze nach einer Regel',
    'whole gardens by choice': 'ganze Gärten nach Wahl',
    'soil remembers': 'Boden, der die Anbauweise wechselte und die frühere noch in sich trägt',
    'one season': 'eine einzige Saison',
    'few gardens': 'zwei oder drei Gärten je Anbauweise',
    'wide interval': 'ein weites Intervall',
    'places without weight': 'Plätze, von denen nichts kam',
  },
  degreesOf: (layout: string, df: number) => asShown(freiheit[layout]?.(df)),
  methodHow: {
    choice:
      'Wo welche Anbauweise liegt, ist gewählt; mehr als mäßig sicher kann es nicht werden, und wenig sicher bei ' +
      'ganzen Gärten: in Versuchen, in denen für eine von zwei Anbauweisen der bessere Boden gewählt war, ' +
      'enthielten solche Intervalle des Gewichts die Wahrheit über die Anbauweisen in 71 bis 93 von 100.',
    random: 'Die Anbauweisen sind ausgelost.',
    rotation: 'Die Anbauweisen wechseln nach einer Regel.',
  },
  failedUnits: (failed: number, allIn: string) =>
    `Von ${failed} ${plural(failed, { one: 'Stelle', other: 'Stellen' })} kam nichts: sie haben keinen ` +
    'Logarithmus und sind oben ' +
    'weggelassen, sodass es um die geht, wo etwas wuchs. Mit Ausfällen als null stehen die Mittel wie 1 zu ' +
    `${allIn}.`,
  widened: (pairs: number) =>
    `Die Frage nennt ${pairs} Paare: jedes Intervall ist so erweitert, dass alle zusammen in 95 von 100 solchen ` +
    'Versuchen halten (Bonferroni).',
  manyPairs: (pairs: number) =>
    `${pairs} Paare werden hier angesehen, und niemand hat sie vorher festgelegt: jedes Intervall ist für so ` +
    'viele erweitert (Bonferroni), und was auffällt, bleibt ein Umschauen.',
  sealed: (count: string) =>
    `Wägungen unter noch nicht geöffneten Kennzeichen: ${count}. Sie sind hier nicht mitgezählt und zählen, ` +
    'sobald die Gewichte ihrer Wochen abgeschlossen sind.',
  missingUnknown:
    'Wochen sind offen, und zu wenige Wochen nahe bei ihnen sind abgeschlossen, um zu sagen, was sie enthalten ' +
    'können: was sie ändern würden, ist nicht zu sagen.',
  missingRange: (low: string, high: string) =>
    `Mit den offenen Wochen im kleinsten und im größten Fall wäre das Verhältnis ${low} bis ${high}.`,
  methodWeeksOpen:
    'Mehr als ein Zehntel der Wochen für Gewichte ist offen: was darin steht, ist unbekannt, und es ist eine ' +
    'Stufe weniger sicher.',
  methodNotCarried:
    'Über die Anbauweisen wird nichts gesagt: sie liegen auf mehr als einem Platz, aber keine gemeinsame Kultur ' +
    'ergab ein Maß dafür, wie sehr sich solche Plätze von selbst unterscheiden.',
  leftOpen: (season: string, ratio: string) =>
    `${season} ist nicht darin: mehr als ein Zehntel ihrer Wochen ist offen. Bisher: das ${ratio}-Fache.`,
  leftStanding: (season: string) =>
    `${season} ist nicht darin: dort steht noch etwas, von dem noch Kilogramme kommen können.`,
  leftUnpriced: (season: string) => `${season} ist nicht darin: ein Betriebsmittel hat dort keinen Preis.`,
  gaps: (seasons: readonly string[]) =>
    `${alle(seasons)} ${plural(seasons.length, { one: 'ist', other: 'sind' })} nicht darin: unter beiden war ` +
    'nichts Gepaartes geräumt.',
  soFar:
    'In jeder Saison ist mehr als ein Zehntel der Wochen offen: das alles gilt bisher, und noch ist nichts ' +
    'unterschieden.',
  cannotTell: (seasons: number) =>
    `${zahlen[seasons] ?? seasons} ${plural(seasons, { one: 'Saison kann', other: 'Saisonen können' })} es nicht sagen`,
  missingEnds: (low: string, high: string, survives: boolean) =>
    `Mit den offenen Wochen im kleinsten und im größten Fall wäre das Verhältnis ${low} bis ${high}; der Befund ` +
    (survives ? 'hält an beiden Enden' : 'hält nicht an beiden Enden') +
    '.',
  cautionsTitle: 'Was hier sonst täuschen kann',
  caution: (caution: Caution, reference: string, methods: readonly string[], locale: string): string => {
    const andere = alle(methods)
    const paar = `${reference} und ${andere}`
    switch (caution.code) {
      case 'ground before':
        return (
          `Der Boden war vorher ein anderer, bei ${reference} neben ${andere}: was er war, nährt oder hemmt noch, ` +
          'was jetzt dort wächst.'
        )
      case 'uniform year':
        return (
          `Im gleichen Jahr ${caution.season}, in dem alle gleich bearbeitet wurden, gab der Boden von ${andere} ` +
          `das ${mal(caution.ratio, locale)}-Fache von ${reference}: so viel macht der Boden von selbst.`
        )
      case 'no uniform year':
        return (
          `Vor ${paar} steht kein Jahr, in dem alle gleich bearbeitet wurden: wie sich ihr Boden von selbst ` +
          'unterscheidet, ist nicht bekannt.'
        )
      case 'unlike ages':
        return (
          `Die Anbauweisen sind nicht gleich alt: ${reference} ist im ${caution.a}. Jahr, ${andere} im ` +
          `${caution.b}. Wo es geht, gehört gleiches Alter verglichen.`
        )
      case 'first years':
        return (
          `Die ersten Jahre einer Anbauweise sind nicht ihre Regel: ${paar} sind nicht beide über ihr zweites ` +
          'hinaus.'
        )
      case 'unlike people':
        return (
          `In ${andere} machen andere Leute die meiste Arbeit als in ${reference}: wer arbeitet und was sie ` +
          'gelernt haben, steckt auch in diesen Zahlen.'
        )
      case 'exposure':
        return `${paar} liegen anders zu Sonne und Wind.`
      case 'two sites':
        return `${paar} liegen an verschiedenen Orten.`
      case 'restarted bed':
        return (
          `Neben ${reference}, bei ${andere}: auf einer Seite wurde ein Beet abgedeckt, um neu zu beginnen. Das ` +
          'schlechteste Beet wäre ohnehin etwas besser geworden.'
        )
      case 'land elsewhere':
        return (
          `Neben ${reference}, bei ${andere}: gekauft und nur auf einer Seite ausgebracht: ` +
          `${alle(caution.kinds.map((kind) => stoffe[kind] ?? kind))}. Gewachsen ist es auf Land, das hier nicht ` +
          'zählt.'
        )
      case 'changed after closing':
        return (
          plural(caution.rows, {
            one: '1 Eintrag dieser Saisonen wurde',
            other: `${caution.rows} Einträge dieser Saisonen wurden`,
          }) + ' nach dem Abschluss der Saison geschrieben oder geändert.'
        )
    }
  },
  detail: 'Wie sicher, und anders gezählt',
  countedOtherwise: 'Diese Befunde sind anders gezählt, als die Frage vorher festlegte: sie sind ein Umschauen.',
  exploratory: 'Niemand hat diese Frage vorher festgelegt; es ist ein Umschauen und keine Prüfung.',
  aboutPlots: (level: string) => `Wie sicher über diese Stücke Land: ${stufen[level] ?? level}.`,
  aboutMethod:
    'Über die Anbauweise: vom Stück Land nicht zu trennen, bei einem Garten je Anbauweise, so viele Saisonen es ' +
    'auch sind.',
  because: 'Herabgestuft wegen: ',
  steps: {
    'few seasons': 'weniger als fünf Saisonen',
    'two seasons': 'nur zwei Saisonen',
    'few matched crops': 'weniger als drei gepaarte Kulturen',
    'weeks open': 'mehr als ein Zehntel der Wochen der Gewichte offen',
    'no question beforehand': 'keine vorher festgelegte Frage',
    'wide interval': 'ein weites Intervall',
    'changed after closing': 'Einträge, die nach dem Abschluss einer Saison geändert wurden',
    'missing weeks turn it': 'offene Wochen könnten es umkehren',
  },
  everyWay: (same: number | null, counted: number, low: string, high: string) =>
    `Auf jede vernünftige Weise gezählt (${counted}) ` +
    (low === high ? `ist das Verhältnis jedes Mal ${low}` : `liegt das Verhältnis zwischen ${low} und ${high}`) +
    (same === null
      ? ', etwa gleich viel: es gibt keine Reihenfolge, die halten könnte'
      : `; die Reihenfolge hält in ${same} davon. Dieser Anteil ist keine Wahrscheinlichkeit`) +
    '.',
  leftOut: (what: 'crops' | 'seasons', left: LeftOutSaid) =>
    `Lässt man je eine ${what === 'crops' ? 'Kultur' : 'Saison'} weg, geht das Verhältnis von ${left.low} (ohne ` +
    `${left.lowWithout}) bis ${left.high} (ohne ${left.highWithout}).`,
  cropsOnce: (ratio: string) => `Zählt jede Kultur einmal, wie viel sie auch wiegt, ist das Verhältnis ${ratio}.`,
  carried: (crops: readonly string[]) =>
    crops.length > 3
      ? `Es hängt am Ganzen: ohne eine beliebige von ${crops.length} Kulturen wäre es nicht zu erkennen.`
      : `Getragen wird es von ${alle(crops)}: ohne ` +
        plural(crops.length, { one: 'diese Kultur', other: 'eine davon' }) +
        ' wäre es nicht zu erkennen.',
  turned: (rules: string) => `Was es umkehrt: ${rules}.`,
  rules: {
    weights: 'marktfähiges oder alles Gewicht',
    mix: 'die Mischung der Kulturen',
    outsideLosses: 'Ausfälle von außerhalb der Anbauweise',
    area: 'Fläche der Beete oder brutto',
    harvestWork: 'Erntearbeit mit oder ohne',
    establishing: 'wie das Einrichten gezählt wird',
    ownMade: 'der Wert des eigenen Komposts',
  },
  table: {
    caption: 'Jeder Befund als Zeile',
    beside: 'Neben der Bezugsweise',
    times: 'Das -Fache',
    range: 'Bereich',
    said: 'Was es sagt',
    seasons: 'Saisonen',
    sure: 'Wie sicher',
    told: 'unterschieden',
    notTold: 'nicht zu unterscheiden',
    open: 'nicht unterschieden, solange Wochen offen sind',
    alike: 'gleich, wie vorher festgelegt',
    refused: {
      'nothing matched': 'keine gemeinsame Kultur',
      'one season': 'eine Saison: kein Intervall',
      'failed season': 'in einer Saison kam von einer Seite nichts',
      'few places': 'von zu wenigen Plätzen kam etwas',
      'only divided': 'nicht nach Anbauweise geschrieben, nur geteilt',
    },
    each: 'Jeder in seinem Satz, mit wie sicher und anders gezählt',
  },
  noneOfOneGarden: 'kein Intervall nach Anbauweise allein',
  ways: {
    marketable: 'marktfähiges Gewicht',
    all: 'alles Gewicht',
    'pooled areas': 'Kulturen nach ihrer Fläche',
    'equal parts': 'Kulturen gleich',
    counted: 'Ausfälle von außen mit',
    'set left out': 'Ausfälle von außen ohne',
  },
  picturesTitle: (b: string, a: string) => `Bilder: ${b} neben ${a}`,
  besideNav: 'Welche Anbauweise neben der Bezugsweise',
  beside: (method: string) => `Bilder von ${method}`,
  whyTitle: 'Woher der Abstand kommt',
  whySay:
    'Der Abstand in marktfähigen kg je m² Beet, zerlegt in Teile, die sich aufaddieren: wie voll der Boden ' +
    'genutzt war, was angebaut wurde, wie gut es wuchs, und die Kulturen, die nur in einem von beiden standen.',
  pair: 'Neben der Bezugsweise',
  columns: {
    gap: 'Abstand',
    intensity: 'Wie voll der Boden genutzt war',
    mix: 'Was angebaut wurde',
    growth: 'Wie gut es wuchs',
    onlyB: 'Eigene Kulturen',
    onlyA: 'Kulturen nur der Bezugsweise',
  },
  seasonsTitle: 'Über die Saisonen',
  picturesNav: 'Bilder',
  seasonsSay:
    'Das Verhältnis jeder Saison auf der gemeinsamen Mischung der Kulturen, die alle Saisonen teilen; dann ihr Mittel.',
  mean: 'Mittel über die Saisonen',
  interval: (level: string) => `${level}-%-Intervall`,
  noneOfOne: 'eine Saison: keines',
  noMean: {
    'one season': 'eine Saison: keines',
    'failed season': 'keines: in einer Saison kam von einer Seite nichts',
    'of places': 'nach Plätzen, nicht nach Saisonen',
  },
  nextSeason: 'Eine weitere Saison läge innerhalb',
  soFarSay:
    'Bisher: es stehen noch Pflanzungen, oder Wochen für Gewichte sind offen; was sie noch geben, ist nicht darin.',
  byCrop: 'Kultur für Kultur',
  perKgTitle: 'Woher der Abstand in Stunden und Kosten je kg kommt',
  perKgOf: { minutes: 'Stunden je kg', costMinor: 'Betriebsmittelkosten je kg' },
  perKgSay:
    'Über die Kulturen, für deren Pflanzungen unter beiden Stunden oder Betriebsmittel aufgeschrieben sind; die ' +
    'Kilogramm sind die Anteile. Stunden und Betriebsmittel eines Gartens werden nie über seine Kulturen ' +
    'verteilt.',
  perKgColumns: {
    gap: 'Abstand je kg',
    mix: 'Was geerntet wurde',
    rate: 'Was jedes kg brauchte',
    covered: 'Anteil, auf dem das ruht: Bezugsweise, andere',
  },
  ifOnlyTitle: 'Alle Anbauweisen zugleich',
  ifOnlySay: (crops: number) =>
    `Marktfähige kg je m² Beet bei den ${kulturen(crops)}, die unter jeder Anbauweise standen, und was es ` +
    'gewesen wäre, wenn sich nur eines unterschieden hätte (Standardisierung nach Das Gupta: jedes Paar stimmt ' +
    'mit jedem anderen überein).',
  ifOnlyRows: {
    crude: 'Wie es war',
    intensity: 'Wenn sich nur unterschieden hätte, wie voll der Boden genutzt war',
    mix: 'Wenn sich nur unterschieden hätte, was angebaut wurde',
    growth: 'Wenn sich nur unterschieden hätte, wie gut es wuchs',
  },
  lossesTitle: 'Ausfälle nach Ursache',
  lossesSay:
    'Aufgeschriebene Ausfälle, der Anteil der Anbaufläche, den sie nahmen, jeder von dem, was noch stand, und ' +
    'darunter, wie viele davon auch nebenan ausfielen. Bei einem Garten je Anbauweise gibt es kein Intervall: ' +
    'ein Hagel trifft sechs Pflanzungen zugleich.',
  lossesNone: 'Es ist kein Ausfall aufgeschrieben.',
  outsideMethod: 'außerhalb der Anbauweise',
  lossCell: (count: number, share: string) => `${count} · ${share}`,
  nextDoorCell: (yes: number) => `nebenan: ${yes}`,
  failedGardens: (method: string, reference: string, difference: string, low: string, high: string) =>
    `Gärten, die eine Pflanzung ganz verloren, ${method} weniger ${reference}: ${difference} Prozentpunkte, ` +
    `${low} bis ${high} (Intervall nach Newcombe; gezählt werden Gärten).`,
  failedRow: 'Pflanzungen, von denen am Ende nichts stand',
  ofPlantings: (failed: number, all: number) => `${failed} von ${all}`,
  lostRow: 'Wie oft es ausfiel: Anteil der Anbaufläche',
  standingRow: 'Wie es ging, wo es stand: kg je noch stehendem m²',
  plantedRow: 'Beides zusammen: kg je bepflanztem m²',
  labourTitle: 'Arbeit nach Aufgabe',
  labourSay:
    'Personenstunden je m² Beet, alle betrachteten Saisonen zusammen; die letzte Zeile ist der Teil, der als ' +
    'Einrichten aufgeschrieben ist.',
  labourAll: 'Alle Aufgaben',
  labourEstablishing: 'Davon Einrichten',
}

const anlagen: Record<string, ((a: number, b: number) => string) | undefined> = {
  gardens: (a, b) => `mit ${a} und ${b} Gärten`,
  'gardens within sites': (a) => `innerhalb von ${a} Orten mit beiden`,
  'split gardens': (a) => `innerhalb von ${a} Gärten mit beiden`,
  uneven: (a, b) => `mit ${a} und ${b} Gärten, von denen einige beide haben`,
  'beds of one garden': (a, b) => `mit ${a} und ${b} Beeten eines Gartens`,
  'blocks of beds': (a) => `innerhalb von ${a} Blöcken von Beeten`,
  'ground that took turns': () => 'auf Boden, der beide nacheinander hatte',
}

const geltung: Record<string, string | undefined> = {
  methodAtSite: 'Das handelt von diesem Ort.',
  methodElsewhere: 'Das handelt von solchen Gärten.',
}

const stufen: Record<string, string | undefined> = {
  'very low': 'sehr wenig sicher',
  low: 'wenig sicher',
  moderate: 'mäßig sicher',
  high: 'recht sicher',
}
