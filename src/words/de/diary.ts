/** What the sheet of a week, Home and a shared report need of the diary's words. */
export const diary = {
  columns: { task: 'Aufgabe', cause: 'Ursache' },
  tasks: {
    'raising seedlings': 'Jungpflanzen anziehen',
    'preparing beds': 'Beete vorbereiten',
    'carrying materials': 'Material tragen',
    'spreading mulch or compost': 'Mulch oder Kompost ausbringen',
    'making compost': 'Kompost machen',
    sowing: 'säen',
    planting: 'pflanzen',
    weeding: 'jäten',
    watering: 'gießen',
    feeding: 'düngen',
    'pest care': 'Schädlinge abwehren',
    'training and pruning': 'aufbinden und schneiden',
    harvest: 'ernten',
    'washing and packing': 'waschen und packen',
    clearing: 'räumen',
    'paths and edges': 'Wege und Ränder',
    'tools and fences': 'Werkzeug und Zäune',
    recording: 'aufschreiben',
    other: 'anderes',
  },
  causes: {
    pest: 'Schädlinge',
    disease: 'Krankheit',
    weather: 'Wetter',
    weeds: 'Unkraut',
    germination: 'nicht aufgegangen',
    water: 'zu nass oder zu trocken',
    animals: 'Tiere',
    people: 'Menschen',
    seed: 'Saatgut',
    unknown: 'nicht bekannt',
  },
  reasons: {
    forked: 'beinig',
    split: 'aufgesprungen',
    slugs: 'von Schnecken befressen',
    diseased: 'krank',
    small: 'klein',
    bolted: 'geschossen',
    other: 'anderes',
  },
  nextDoor: { yes: 'ja', no: 'nein', 'not grown': 'dort nicht angebaut' },
  sources: { field: 'im Garten', paper: 'vom Papier gelesen' },
  isClosed: 'Diese Woche ist für den Garten abgeschlossen. Öffne sie erst wieder.',
  isClosedThere: 'Ihre Woche ist für den Garten abgeschlossen. Öffne sie erst auf der Seite der Woche wieder.',
  notInWeek: 'Dieser Tag liegt nicht in der Woche.',
  ahead: 'Dieser Tag kommt erst.',
  weekAhead: 'Diese Woche kommt erst: abschließen kann man sie von ihrem Montag an.',
  noGround:
    'Dieses Beet hatte in der Saison keine Fläche: Stunden darauf stünden in keiner Zahl. Schreib sie für den ' +
    'Garten auf, oder sag zuerst, wann es das Beet gab.',
  noBeds:
    'Dieser Garten hatte in der Saison kein Beet: Stunden darauf stünden in keiner Zahl. Leg zuerst auf seiner Seite ' +
    'die Beete an, mit dem Tag, seit dem es sie gibt.',
  liftedLater: 'Es kann nicht erst nach dem Wiegen aus der Erde gekommen sein.',
  twoStates: 'Was gewogen wurde, zählt in verschiedenem Zustand. Sag, in welchem es gewogen wurde.',
  otherLot: 'Das ist keine frühere Wägung dieser Pflanzung.',
  lotMissing: 'Sag, wie die Partie dieses Saatguts heißt: Die Pflanzung im nächsten Jahr nennt sie.',
  lotOfNoSeed: 'Nur eigenes Saatgut hat eine Partie.',
  pickedAsk: (crop: string) =>
    `${crop} zählt zu der Saison, in der geerntet wird, und diese Pflanzung steht in einer anderen. Berichtige ` +
    'die Saison der Pflanzung, dann gehen ihre Stunden mit; oder speichere noch einmal, dann bleibt alles, wo es ' +
    'ist.',
  noSeasonThen: (crop: string) =>
    `Für ${crop} gibt es an diesem Tag keine Saison. Was über Saisons steht, zählt zu der des Tages: Schreib sie ` +
    'zuerst auf.',
  seasonOver:
    'Diese Saison ist vorbei und geschlossen: Was du jetzt aufschreibst, ändert sie nicht mehr. Wähle die nächste.',
  seasonClosed: (crop: string) =>
    `${crop} zählt hier zu einer Saison, die vorbei und geschlossen ist: Was du jetzt aufschreibst, ändert sie ` +
    'nicht mehr. Wer die Gruppe führt, kann sie wieder öffnen.',
  noSeason: 'Dieser Tag liegt in keiner Saison. Sag, zu welcher er zählt.',
  peopleTwice: 'Die Zeit sagt, wie viele Leute es waren, und dieses Feld eine andere Zahl. Sag es einmal.',
  goneAsk: (crop: string, day: string) =>
    `Am ${day} wurde aufgeschrieben, dass alles davon verloren ist: ${crop}. Wurde trotzdem geerntet?`,
  notTaken: 'Was schon dasteht, spricht gegen diesen Eintrag. Sieh ihn noch einmal an.',
  byGround: 'nach Fläche geteilt: seine Beete sind in verschiedenen Phasen',
  phaseUnknown: 'Sag die Phase: für diese Fläche steht in der Saison keine Methode da.',
  outsideTooLate:
    'Die Saison ist abgeschlossen: ob eine Ursache außerhalb der Methode lag, wird gesagt, bevor man das ' +
    'Ergebnis kennt.',
  sameAsk: 'Dasselbe Gewicht dieser Pflanzung steht an dem Tag schon da. Ist das ein weiteres?',
  longAsk: 'Das ist mehr, als ein Mensch in der Zeit arbeitet. Stimmt es?',
  beforeSown: 'Diese Pflanzung war an dem Tag noch nicht gesät.',
  afterCleared: 'Diese Pflanzung war an dem Tag schon geräumt.',
  lessThanTare: 'Das ist weniger, als die leere Kiste wiegt.',
  nothingWeighed: 'Schreib in eines der beiden Felder ein Gewicht.',
  whyMissing: 'Sag, warum es nicht verkäuflich ist.',
  whyOfNothing: 'Dieser Grund gehört zu einem Gewicht, das nicht verkäuflich ist. Schreib es, oder lass den Grund weg.',
  muchAsk: (kg: string, area: string, crop: string) =>
    `${kg} von ${area} an einem Tag ist sehr viel (${crop}): stimmt die Einheit?`,
}
