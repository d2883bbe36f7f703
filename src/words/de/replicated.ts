import { byName } from '../by-name.ts'
import { plural } from './plural.ts'

interface Gepoolt {
  readonly ratio: string
  readonly low: string
  readonly high: string
  readonly i2: string
  readonly next: { readonly low: string; readonly high: string } | null
}

interface Modell {
  readonly ratio: string
  readonly low: string
  readonly high: string
  readonly df: string
  readonly plots: number
  readonly failed: number
  readonly singular: boolean
}

type Halter = 'garden' | 'site' | 'block' | null
const halter = { garden: 'Gärten', site: 'Orte', block: 'Blöcke' }
const abzueglich = (held: Halter) => (held === null ? '' : `, ${halter[held]} herausgerechnet,`)
const abzueglichAmEnde = (held: Halter) => (held === null ? '' : `, ${halter[held]} herausgerechnet`)

export const replicated = {
  togetherTitle: 'Alle Anbauweisen in einer Auswertung',
  togetherSay: (df: number, held: Halter) =>
    'Ein Wert je Stelle, in Logarithmen, sodass Unterschiede Verhältnisse sind. Die Streuung zwischen Stellen ' +
    `einer Anbauweise${abzueglich(held)} lässt ${df} ` +
    plural(df, { one: 'Freiheitsgrad', other: 'Freiheitsgrade' }) +
    '.',
  units: 'Stellen',
  kgPerM2: 'kg je bepflanztem m², gemeinsame Mischung',
  letters: 'Buchstaben',
  lettersSay:
    'Für Anbauweisen mit einem gemeinsamen Buchstaben zeigte sich kein Unterschied, alle Paare zusammen ' +
    'betrachtet (Tukeys Test der ehrlichen gesicherten Differenz). Ein gemeinsamer Buchstabe heißt nicht, dass ' +
    'sie gleich sind.',
  leastSay: (standardError: string, least: string, cv: string, held: Halter) =>
    `Ein Paar allein müsste sich um ein Verhältnis von ${least} unterscheiden, um auseinandergehalten zu werden ` +
    `(Grenzdifferenz; Standardfehler als Verhältnis ${standardError}). Stellen einer ` +
    `Anbauweise${abzueglich(held)} unterscheiden sich um etwa ${cv} % (Variationskoeffizient des Versuchs).`,
  cvSay: (cv: string, held: Halter) =>
    `Stellen einer Anbauweise${abzueglich(held)} unterscheiden sich um etwa ${cv} % (Variationskoeffizient des ` +
    'Versuchs).',
  spreadsSay: (asWeighed: string, logs: string, held: Halter) =>
    'Warum Logarithmen, vorher so entschieden: Gewichte schwanken im Verhältnis. Hier unterscheidet sich die ' +
    `Streuung der Anbauweisen${abzueglich(held)} um das ${asWeighed}-Fache wie gewogen und um das ${logs}-Fache ` +
    'in Logarithmen.',
  failedSay: (failed: number) =>
    `${failed} ` +
    plural(failed, { one: 'Stelle gab', other: 'Stellen gaben' }) +
    ` nichts und ${plural(failed, { one: 'hat', other: 'haben' })} keinen Logarithmus: das handelt von denen, wo ` +
    'etwas wuchs.',
  anovaTitle: 'Varianzanalyse',
  anovaHead: ['Quelle', 'Freiheitsgrade', 'Quadratsumme', 'Mittleres Quadrat', 'F', 'p'],
  sources: byName({ block: 'Blöcke', treatment: 'Anbauweisen', error: 'Stellen einer Anbauweise' }),
  sourceAfter: (source: string, held: Halter) => `${source}${abzueglichAmEnde(held)}`,
  pairTitle: (method: string, reference: string) => `${method} neben ${reference}`,
  pooled: (p: Gepoolt) =>
    `Von Saison zu Saison ist das mittlere Verhältnis ${p.ratio} (${p.low} bis ${p.high}). ` +
    (p.i2 === '0'
      ? 'Die Saisonen unterscheiden sich nicht mehr, als die Stellen einer Saison es von selbst tun (I², was ' +
        'darüber hinausgeht, ist 0 %).'
      : `Von dem, worin sich die Saisonen unterscheiden, gehen ${p.i2} % über das hinaus, worin sich die Stellen ` +
        'einer Saison von selbst unterscheiden (I²).') +
    (p.next ? ` Eine neue Saison läge zwischen ${p.next.low} und ${p.next.high}.` : ''),
  model: (m: Modell) =>
    `Noch einmal gezählt, jede von ${m.plots} Pflanzungen für sich, und was Kulturen, Saisonen und Stellen ` +
    `ausmachen, neben den Anbauweisen geschätzt (ein gemischtes Modell nach REML): Verhältnis ${m.ratio}` +
    (m.singular
      ? ''
      : `, ${m.low} bis ${m.high} bei ${m.df} Freiheitsgraden (was die Stellen zum Urteilen lassen, nach ` +
        'Satterthwaite)') +
    '. Es ist ein Verhältnis von Medianen der Pflanzungen, wo etwas wuchs' +
    (m.failed > 0 ? `; ${m.failed}, die nichts gaben, sind nicht darin` : '') +
    '.' +
    (m.singular
      ? ' Eine der Streuungen unten wurde als keine geschätzt; ein Intervall nähme Pflanzungen für Stellen: hier ' +
        'steht keines, es gilt das obige.'
      : ''),
  spread: (of: string, sd: string, held: Halter) =>
    `Streuung zwischen ${of}${abzueglichAmEnde(held)}, in Logarithmen: ${sd}`,
  spreadOf: byName({
    crop: 'Kulturen',
    season: 'Saisonen',
    garden: 'Gärten',
    bed: 'Beeten',
    block: 'Blöcken',
    site: 'Orten',
    'garden by method': 'den Hälften eines Gartens',
    residual: 'sonst gleichen Pflanzungen',
  }),
  stableTitle: 'Wie stetig über die Saisonen',
  stableSay: (seasons: number) =>
    `Auf den Kulturen jeder Saison, gleich gewogen. Bei ${seasons} Saisonen sind diese Zahlen größtenteils ` +
    'Rauschen, und ein schwererer Ertrag hat von selbst einen kleineren Variationskoeffizienten. Stetig ist ' +
    'nicht dasselbe wie erwünscht.',
  stableHead: [
    'Mittel, kg je m²',
    'Variationskoeffizient, %',
    'Steigung auf die Saison (Finlay und Wilkinson)',
    'Varianz der Wechselwirkung (Shukla)',
    'Mittlerer quadratischer Abstand zum Besten (Lin und Binns)',
  ],
}
