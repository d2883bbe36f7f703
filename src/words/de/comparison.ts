import { listed } from '../listed.ts'
import { plural } from './plural.ts'
export const comparison = {
  title: 'Vergleichen',
  allSeasons: 'Alle Saisonen',
  all: 'Alle',
  parts: 'Auf dieser Seite',
  partsNav: 'Teile des Vergleichs',
  partNames: {
    side: 'Nebeneinander',
    seasons: 'Saison für Saison',
    crops: 'Kultur für Kultur',
    why: 'Warum sie sich unterscheiden',
    work: 'Arbeit durch die Saison',
    losses: 'Was verloren ging',
    otherwise: 'Anders gezählt',
    doubts: 'Was sonst täuschen kann',
    layout: 'Die Anlage',
  },
  seasonLabel: 'Saisonen',
  referenceLabel: 'Daneben steht',
  show: 'Zeigen',
  take: 'Zum Mitnehmen',
  noPart: 'Für diese Auswahl ist hier nichts zu zeigen.',
  everyFinding: 'Jeder Befund in seinem eigenen Satz',
  intoReport: 'In einen Bericht aufnehmen',
  which: 'Welche Saison',
  oneGarden:
    'Vor jeder Zahl: hier steht ein Garten für eine Anbauweise. Was sich unterscheidet, kann von der Anbauweise ' +
    'kommen oder vom Boden, und diese Zahlen können beides nicht trennen.',
  none: 'Noch gibt es nichts zu vergleichen. Es braucht eine Saison und eine Anbauweise auf jedem von zwei Gärten.',
  allCrops: 'Alle Kulturen, wie sie angebaut wurden',
  allCropsSay:
    'Jede Anbauweise mit allem, was unter ihr wuchs. Ungleiche Kulturen wiegen ungleich: diese Tafel sagt, was ' +
    'vom Boden kam, nicht, wie gut eine Anbauweise wachsen lässt.',
  matched: 'Gepaarte Kulturen',
  matchedSay:
    'Nur die Sorten, die unter jeder Anbauweise standen und geräumt sind, in Kilogramm je bepflanztem ' +
    'Quadratmeter. Die letzte Zeile wiegt sie für jede Anbauweise gleich: nach der Fläche, die jede über alle ' +
    'Anbauweisen hatte.',
  seasonsOfMethod: 'Saisonen, in denen sie lag',
  joinable: (crops: readonly string[], season: string) =>
    `${listed(crops, 'und')} ${plural(crops.length, { one: 'stand', other: 'standen' })} in ${season} unter ` +
    'jeder Anbauweise und ' +
    `${plural(crops.length, { one: 'ist', other: 'sind' })} geräumt, aber nicht gepaart: gepaart würden sie hier ` +
    'zählen.',
  joinThem: 'Unter der Saison paaren',
  noMatched: 'Noch keine Sorte stand unter jeder Anbauweise und ist geräumt.',
  commonMix: 'Alle zusammen, in gleicher Mischung',
  measure: 'Kennzahl',
  crop: 'Kultur',
  soFar: 'bisher',
  atLeast: 'mindestens',
  weeksOpen: 'soweit aufgeschrieben; Stunden sind offen',
  nothing: 'noch keine',
  json: 'als JSON',
  files: 'Diese Zahlen',
  csv: 'als CSV',
  coverage: {
    hoursClosed: 'Wochen mit abgeschlossenen Stunden',
    weightsClosed: 'Wochen mit abgeschlossenen Gewichten',
    paper: 'Einträge, von Papier abgelesen',
    late: 'Einträge, mehr als 14 Tage danach geschrieben',
  },
  readTwice: (pairs: number, error: string, apart: string) =>
    `Wie genau gewogen wird: ${pairs} Gewichte schrieben zwei Menschen auf, und eine Ablesung hat einen Fehler ` +
    `(eine Standardabweichung) von etwa ${error}; im Mittel lag die zweite Ablesung ${apart} neben der ersten. ` +
    'Kleinere Unterschiede können an der Waage liegen.',
  notReadTwice: (pairs: number) =>
    'Wie genau gewogen wird, ist nicht bekannt: es braucht zwei Gewichte, die zwei Menschen aufschrieben, und es ' +
    `gibt ${plural(pairs, { one: 'eines', other: 'keines' })}.`,
  of: (closed: number, all: number) => `${closed} von ${all}`,
  restsOnArea: (area: string, plantings: number) =>
    `auf ${area}, ${plantings} ${plural(plantings, { one: 'Pflanzung', other: 'Pflanzungen' })}`,
  restsOnWeeks: (closed: number, all: number) => `${closed} von ${all} Wochen abgeschlossen`,
  restsOnKg: (kg: string) => `auf ${kg}`,
  howMade: 'Wie es entsteht',
  otherwise: {
    title: 'Anders gezählt',
    say:
      'Alles, was angebaut wurde, je Anbauweise, Garten, Beet oder Kultur, nach selbst gewählten Regeln. Die ' +
      'Adresse behält die Wahl: sie lässt sich weitergeben.',
    choose: 'Wählen, wie gezählt wird',
    by: 'Je',
    bys: { method: 'Anbauweise', garden: 'Garten', bed: 'Beet', crop: 'Kultur' },
    rules: {
      weights: 'Gewichte',
      area: 'Fläche',
      harvestWork: 'Ernten, Waschen und Packen',
      establishing: 'Arbeit und Betriebsmittel des Einrichtens',
      ownMade: 'Der eigene Kompost der Gruppe',
      mix: 'Mischung der gepaarten Kulturen in den Befunden',
      outside: 'Gepaarte Sätze, die Pflanzen an eine Ursache außerhalb der Anbauweise verloren',
    },
    hints: {
      establishing:
        'Verteilt wird auf die Saisonen, die für jede Anbauweise angegeben sind; wo keine angegeben sind, zählt ' +
        'es in seiner Saison.',
      ownMade: 'Nie sein Wert und die Stunden, ihn zu machen, beide.',
    },
    choices: {
      marketable: 'marktfähig',
      all: 'alles',
      bed: 'der Beete',
      gross: 'brutto, mit Wegen',
      with: 'in den Stunden',
      without: 'nicht in den Stunden',
      counted: 'gezählt, wie sie sind',
      'left out': 'weggelassen',
      spread: 'verteilt auf die angegebenen Saisonen',
      free: 'umsonst, mit den Stunden, ihn zu machen',
      valued: 'zum angegebenen Wert, ohne diese Stunden',
      'pooled areas': 'nach der Fläche, die sie hatten',
      'equal parts': 'jede Kultur gleich',
      'set left out': 'in allen Gärten weggelassen',
    },
    planted: 'Bepflanzt',
    kgPerM2: 'kg je bepflanztem m²',
    notWritten: 'nicht je Kultur aufgeschrieben',
    cropSay:
      'Stunden und Betriebsmittel einer Kultur sind die, die bei ihren Pflanzungen stehen, und nicht mehr: was ' +
      'für einen Garten oder ein Beet aufgeschrieben wurde, ist nicht darin.',
    count: 'So zählen',
  },
  unpriced: (count: number) => `${count} ohne Preis`,
}
