const strich = 'Der aufrechte Strich ist die Zahl, die dünne Linie ihr 95-%-Intervall.'
const weiter = 'Ein Punkt am Rand sagt, dass es außerhalb des Bildes weitergeht.'
const doppelt = 'Doppelt und halb liegen gleich weit von 1.'

export const pictures = {
  tableBelow: 'Gezeichnet aus der Tafel, die folgt.',
  theTable: 'Die Tafel',
  takenAs: (kind: string, title: string) => `${kind} zum Mitnehmen: ${title}`,
  takenFrom: (group: string, seasons: string) => `${group}, ${seasons}`,
  tableOnPage: 'Gezeichnet aus der Tafel auf dieser Seite.',
  unknown: 'nicht bekannt',
  noInterval: 'kein Intervall',
  oneSeason: 'eine Saison: keines',
  withInterval: (figure: string, low: string, high: string) => `${figure} (${low} bis ${high})`,
  rangeOnly: (low: string, high: string) => `${low} bis ${high}`,
  withoutInterval: (figure: string, why: string) => `${figure} (${why})`,
  anyBelow: 'beliebig tief',
  anyAbove: 'beliebig hoch',
  head: {
    method: 'Anbauweise',
    crop: 'Kultur',
    season: 'Saison',
    way: 'Zählweise',
    week: 'Woche',
    cause: 'Ursache',
    day: 'Tag',
    figure: 'Zahl',
    low: 'Intervall von',
    high: 'Intervall bis',
    ratio: 'Verhältnis',
    together: 'Zusammen',
    where: 'Wo',
  },
  yields: {
    title: 'Ertrag je Anbauweise',
    how: `${strich} ${weiter}`,
    howWithout: 'Der aufrechte Strich ist die Zahl. Wie sicher sie ist, ist aus dem, was hier steht, nicht zu sagen.',
    axis: 'marktfähige kg je m² Beet',
  },
  cropRatios: {
    title: (b: string, a: string) => `${b} neben ${a}, Kultur für Kultur`,
    how:
      'Das Wievielfache des Gewichts je bepflanztem m². Eine einzelne Kultur hat kein Intervall; die letzte Zeile ' +
      `ist alle zusammen in einer Mischung. ${doppelt} ${weiter}`,
    axis: (b: string, a: string) => `Gewicht unter ${b} auf je 1 unter ${a}`,
    pooled: 'Alle zusammen, in gleicher Mischung',
  },
  overSeasons: {
    title: (b: string, a: string) => `${b} neben ${a}, Saison für Saison`,
    how: (level: string) =>
      `Das Wievielfache des Gewichts je bepflanztem m². Die dicke Linie ist das ${level}-%-Intervall des ` +
      `Mittels, die gestrichelte, wo eine weitere Saison zu erwarten wäre. ${doppelt} ${weiter}`,
    pooled: 'Mittel über die Saisonen',
    predicted: 'Eine weitere Saison',
  },
  everyWay: {
    title: (b: string, a: string) => `${b} neben ${a}, auf jede Weise gezählt`,
    how:
      'Jede vernünftige Zählweise in der Reihe ihres Verhältnisses; die erste Wahl der Regeln steht in kräftiger ' +
      `Schrift. Die Zählweisen sind keine Stichprobe: wie weit sie streuen, ist kein Intervall. ${doppelt}`,
  },
  alike: 'gleich',
  gap: {
    title: (b: string, a: string) => `Worin sich ${b} und ${a} unterscheiden`,
    how:
      'Nach rechts, was der ersten zugutekam, nach links, was ihr fehlte; der aufrechte Strich ist die Summe. Erst ' +
      'jeder Teil allein, dann alle zusammen, dann Kultur für Kultur.',
    axis: (b: string) => `kg je m² Beet, ${b} weniger die andere`,
    parts: {
      intensity: 'Wie voll der Boden genutzt war',
      mix: 'Was angebaut wurde',
      growth: 'Wie gut es wuchs',
      onlyB: 'Eigene Kulturen',
      onlyA: 'Kulturen nur der anderen',
    },
    together: 'Alle zusammen',
  },
  labour: {
    title: (method: string) => `Arbeit durch die Saison, ${method}`,
    how: 'Oben die Stunden der Saison nach Art der Arbeit, darunter dieselben Woche für Woche, eine auf der anderen.',
    axis: 'Stunden je Woche',
    hours: (figure: string) => `${figure} Std.`,
    open:
      'Wo die Linie am Fuß unterbrochen ist, sind die Stunden der Woche nicht abgeschlossen: sie sind nicht ' +
      'bekannt, und das ist nicht null.',
    groups: {
      ground: 'Beete, Mulch, Kompost',
      planting: 'Säen und Pflanzen',
      tending: 'Jäten und Pflegen',
      harvest: 'Ernten und Packen',
      other: 'Alle andere Arbeit',
    },
  },
  running: {
    title: 'Arbeit durch die Saison, zusammengezählt',
    how:
      'Jede Linie ist, was bis dahin an Stunden zusammenkam. Nach einer nicht abgeschlossenen Woche wird eine ' +
      'Linie blasser: es sind so viele Stunden oder mehr.',
    axis: (perArea: boolean) => (perArea ? 'Stunden bisher je m² Beet' : 'Stunden bisher'),
    crossing: (lower: string, higher: string, week: string, times: number) =>
      `Ab Woche ${week} hat ${higher} insgesamt mehr Stunden gebraucht als ${lower}` +
      (times > 1 ? `; die Reihenfolge kehrte sich ${times}-mal um, dies war das letzte Mal` : '') +
      '.',
    noCrossing: (weeks: number, all: number) =>
      `In den ersten ${weeks} von ${all} Wochen kreuzt keine Linie die der ersten Anbauweise` +
      (weeks < all ? '; die Wochen danach sind nicht alle abgeschlossen' : '') +
      '.',
  },
  losses: {
    title: 'Was ausfiel, nach Ursache',
    how:
      'Unter jeder Ursache eine Linie je Anbauweise, alle auf einer Skala. Nicht bekannt steht in Worten; es ist ' +
      'nicht null.',
    area: (figure: string) => `${figure}\u00a0m²`,
  },
  soil: {
    title: (analyte: string) => `${analyte} über die Jahre`,
    how:
      'Ein Strich für jede Untersuchung, verbunden, wo dazwischen keine fehlt. Die Skala muss nicht bei null ' +
      'beginnen.',
  },
}
