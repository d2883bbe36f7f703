export const guesses = {
  title: (season: string) => `Was ist von ${season} zu erwarten?`,
  say:
    'Erst aufschreiben, was zu erwarten ist, dann hinsehen. Was eine Saison ergab, steht hier, sobald sie ' +
    'abgeschlossen ist und eine eigene Schätzung dasteht; „Vergleichen“ zeigt es allen, also zuerst schätzen.',
  measure: (reference: string) =>
    `Jede Anbauweise neben ${reference}: Gewicht je bepflanztem m² bei den gepaarten Kulturen, marktfähig, wie ` +
    '„Vergleichen“ es zählt.',
  ways: {
    more: (method: string, reference: string) => `${method} gibt mehr als ${reference}`,
    less: (method: string, reference: string) => `${method} gibt weniger als ${reference}`,
    alike: 'etwa gleich viel',
  },
  way: 'Was gibt mehr?',
  percent: 'Um wie viel Prozent',
  lessThanAll: 'Um hundert Prozent oder mehr kann es nicht weniger sein.',
  save: 'Aufschreiben',
  saved: 'Aufgeschrieben. Es lässt sich ändern, bis die Saison abgeschlossen ist.',
  savedForGood: 'Aufgeschrieben.',
  allOfThem: 'Bitte zu jeder Anbauweise eine Schätzung aufschreiben: danach werden die Ergebnisse gezeigt.',
  closed: 'Die Saison ist abgeschlossen: eine aufgeschriebene Schätzung bleibt, wie sie ist.',
  mayChange: 'Es lässt sich ändern, bis die Saison abgeschlossen ist.',
  visitor: 'Zum Mitschätzen braucht es ein Konto und eine eigene Gruppe.',
  nothing: 'Noch gibt es nichts zu schätzen: es braucht zwei Anbauweisen in dieser Saison.',
  mine: 'Eigene Schätzung',
  yearsTitle: 'Schätzungen neben Ergebnissen',
  columns: {
    season: 'Saison',
    method: 'Anbauweise',
    mine: 'Eigene Schätzung',
    all: 'Die Mitte aller Schätzungen',
    result: 'Was zu sehen war',
  },
  of: (count: number, late: number) => `von ${count}${late === 0 ? '' : `, ${late} nach dem Abschluss der Saison`}`,
  more: (percent: string) => `${percent}\u00a0% mehr`,
  less: (percent: string) => `${percent}\u00a0% weniger`,
  alike: 'gleich',
  none: 'keine',
  stillOpen: 'die Saison läuft noch',
  guessFirst: 'wird nach der eigenen Schätzung gezeigt',
  noMatch: 'keine gepaarte Kultur unter beiden',
  limit:
    'Eine Saison eines Gartens je Anbauweise: was hier zu sehen war, kann von der Anbauweise kommen oder vom Boden.',
  link: (season: string) => `Was ist von ${season} zu erwarten?`,
  listTitle: 'Erst schätzen, dann hinsehen',
}
