import { byName } from '../by-name.ts'

type Measure = 'weight' | 'work' | 'workPerKg' | 'inputsPerKg'

export const side = {
  title: (first: string, last: string | null) => `${first}${last === null ? '' : ` bis ${last}`}`,
  method: 'Methode',
  garden: 'Garten',
  reference: 'die anderen stehen neben ihr',
  names: {
    weight: 'Gewicht',
    work: 'Arbeit',
    workPerKg: 'Arbeit je Kilogramm',
    inputsPerKg: 'Betriebsmittel je Kilogramm',
  },
  units: {
    weight: () => 'verkäufliche kg je m² Beet',
    work: () => 'Stunden je m², ohne Ernte',
    workPerKg: () => 'Stunden je verkäufliches kg, alle Arbeit',
    inputsPerKg: (currency: string) => `${currency} je verkäufliches kg`,
  } as Record<Measure, (currency: string) => string>,
  axis: (reference: string) => `mal ${reference}`,
  times: (ratio: string, low: string, high: string) => `${ratio}× (${low}–${high})`,
  timesAlone: (ratio: string) => `${ratio}×, eine Saison`,
  saysNothing: 'Bereich zu weit',
  atLeast: 'mindestens',
  none: byName({
    'nothing matched': 'keine gemeinsame Kultur',
    'one season': 'eine Saison',
    'failed season': 'auf einer Seite kam nichts',
    'not whole': 'keine ganze Saison auf beiden Seiten',
    'few places': 'von zu wenigen Plätzen kam etwas',
    'only divided': 'nicht je Anbauweise geschrieben, nur geteilt',
    reference: '',
  }),
  keyMore: 'Die Zeichnung',
  keyTold: 'unterschieden, wie vorher festgelegt',
  keyExploratory: 'fällt auf, vorher nicht gefragt',
  keyRing: 'nicht zu unterscheiden',
  keySeasons: 'einzelne Saisonen',
  keyOpen: 'Wochen offen',
  keyTicks: 'Jeder Schritt der Achse verdoppelt.',
  keyLine: (level: string, unasked: string | null) =>
    unasked === null
      ? `Linie: Intervall zu ${level} %, für alle Paare einer Spalte zusammen.`
      : `Linie: Intervall zu ${level} % für die Paare, die die Frage nennt, ${unasked} % für die übrigen.`,
  keyText:
    'Die Zahl gilt für alle Kulturen; das Zeichen hält dieselben Kulturen oder dieselben Saisonen neben die der ' +
    'ersten Zeile.',
}
