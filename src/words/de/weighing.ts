export const weighing = {
  labelled: (label: string) => `Etikett ${label}`,
  toLabels: 'Etiketten, um zu wiegen, ohne die Pflanzung zu kennen',
  labelsTitle: (week: string) => `Etiketten für die Kisten der Woche ${week}`,
  labelsSay:
    'Wer erntet, legt zu jeder Kiste das Etikett ihrer Pflanzung; wer wiegt, sieht das Etikett und schreibt das ' +
    'Gewicht darunter auf. So rundet niemand für die Anbauweise, die er mag. Gib einer Kultur in jedem Garten ' +
    'ein Etikett, in dem sie steht: ein einziges verrät den Garten. Die Woche zeigt nur Etiketten, bis die ' +
    'Gewichte dieses Gartens abgeschlossen sind; dann werden sie geöffnet. Abschließen und wieder öffnen darf, ' +
    'wer den Versuch leitet: am besten jemand, der nicht wiegt.',
  labelsLimit:
    'Die Liste unten ist für die, die ernten, und bleibt denen verborgen, die wiegen. Bis sie geöffnet werden, ' +
    'zählen die Gewichte in keiner Zahl und stehen in keiner Liste: nicht auf der Seite eines Gartens, nicht im ' +
    'Vergleich, nicht im Bericht. Das Blatt auf Papier hat für jedes Etikett eine Zeile anstelle der Pflanzung.',
  forPicker: 'Für die, die ernten',
  slips: 'Zum Ausschneiden',
  slipsSay: 'Nach den Buchstaben geordnet, damit die Reihe nichts verrät.',
  noLabels: 'Noch hat keine Kiste dieser Woche ein Etikett.',
  choose: 'Welche Pflanzungen ein Etikett bekommen',
  chooseSay:
    'Ziehe die Etiketten, bevor gewogen wird: was diese Woche schon unter seinem Namen gewogen ist, ist bekannt ' +
    'und steht hier nicht mehr.',
  make: 'Etiketten ziehen',
  nothingToLabel:
    'Keine Pflanzung steht diese Woche ohne Etikett und noch nicht gewogen in einem Garten, dessen Gewichte ' +
    'offen sind.',
  chooseOne: 'Wähle mindestens eine Pflanzung.',
  labelsMade: 'Die Etiketten sind gezogen.',
  takeOff: 'Ein Etikett abnehmen',
  takeOffSay: 'Ihre Pflanzung wird wieder unter ihrem Namen gewogen; die Gewichte darunter bleiben.',
  takenOff: 'Das Etikett ist abgenommen. Der Verlauf behält es.',
  label: 'Etikett',
  planting: 'Pflanzung',
  state: 'Offen oder versiegelt',
  sealed: 'versiegelt',
  opened: 'geöffnet: die Gewichte dieses Gartens sind abgeschlossen',
  toWeek: 'Zur Woche',
  addLabelled: 'Ein Gewicht zu einem Etikett aufschreiben',
  labelHint: 'Zwei Buchstaben und eine Ziffer, wie auf der Kiste',
  noSuchLabel: 'Keine Kiste dieser Woche hat dieses Etikett. Sieh noch einmal auf der Kiste nach.',
  keepersOpen:
    'Die Kisten dieses Gartens haben diese Woche Etiketten: nur wer den Versuch leitet, schließt seine Gewichte ' +
    'ab oder öffnet sie wieder, denn das Abschließen öffnet die Etiketten.',
  keeperCloses: (garden: string) =>
    `Die Kisten von ${garden} haben diese Woche Etiketten: wer den Versuch leitet, schließt die Gewichte ab und ` +
    'öffnet sie wieder.',
  sameWeek: 'Ein Gewicht unter einem versiegelten Etikett bleibt in seiner Woche.',
  byItsLabel: 'Diese Pflanzung hat diese Woche ein Etikett: schreib ihr Gewicht unter dem Etikett auf.',
  muchAsk: 'Das ist sehr viel für das, worauf dieses Etikett steht: stimmt die Einheit?',
  secondHeading: 'Diese Woche schreibt jemand Zweites mit auf',
  secondSay:
    'Vom Los bestimmt, in zwei Wochen einer Saison: jemand anderes liest für dieselben Kisten die Waage ab und ' +
    'schreibt auf, was dort steht, ohne das Erste anzusehen. Es geht in keine Summe ein; es zeigt, wie gut ' +
    'gewogen wird.',
  secondHome: (week: string) => `Woche ${week}: diese Woche schreibt jemand Zweites mit auf.`,
  addSecond: 'Aufschreiben, was du als Zweites abgelesen hast',
  weighed: 'Alles, was du dafür diese Woche abgelesen hast, verkäuflich oder nicht, netto',
  secondWritten: 'Von jemand Zweitem abgelesen:',
  notDrawn: 'Diese Woche gehört nicht zu den zwei ihrer Saison, in denen jemand Zweites mit aufschreibt.',
  ownWeighing:
    'Du hast in dieser Woche selbst ein Gewicht dieser Pflanzung aufgeschrieben: eine zweite Ablesung kommt von ' +
    'jemand anderem.',
  readAlready: 'Eine zweite Ablesung dieser Pflanzung steht schon da. Berichtige diese.',
  secondOf: (week: string) => `Zweite Ablesung, ${week}`,
}
