import { plural } from './plural.ts'

const ausgaben = (count: number) => plural(count, { one: '1 Ausgabe', other: `${count} Ausgaben` })

const days = (count: number) => plural(count, { one: '1 Tag', other: `${count} Tage` })

interface ManureTold {
  readonly planting: string
  readonly garden: string
  readonly picked: string
  readonly waited: number
  readonly days: number
  readonly input: string
  readonly notKnown: boolean
}

export const reports = {
  title: 'Berichte',
  intro:
    'Ein Bericht zeigt anderen einen Vergleich, mit einigen eigenen Sätzen. Eingefroren behält er die Zahlen, ' +
    'wie sie jetzt stehen, und ändert sich nie mehr; laufend zeigt er die Zahlen des Tages, an dem er geöffnet ' +
    'wird.',
  none: 'Es gibt noch keinen Bericht.',
  add: 'Einen Bericht schreiben',
  addLater: (title: string) => `Eine spätere Ausgabe von „${title}“ schreiben`,
  addLaterSay: 'Ist sie fertig, steht sie unter denselben Links; die frühere bleibt von ihr aus erreichbar.',
  columns: { report: 'Bericht', state: 'Stand', edition: 'Ausgabe' },
  states: { draft: 'Entwurf, außerhalb nicht zu sehen', live: 'laufend' },
  fields: {
    title: 'Titel',
    words: 'Einige eigene Sätze',
    wordsHint:
      'Eine leere Zeile beginnt einen Absatz, eine Zeile mit "- " am Anfang eine Liste; *so* ist kursiv, **so** ' +
      'ist fett, [so](https://example.org) ist ein Link. Anderes wird nicht als Auszeichnung gelesen.',
    season: 'Aus welcher Saison',
    sections: 'Was darin steht',
    pictures: 'Bilder darin',
    picturesHint:
      'Jedes steht bei dem Teil, zu dem es gehört, mit der Tafel, aus der es gezeichnet ist. „Erst ansehen“ ' +
      'zeigt, welche die Aufzeichnungen tragen.',
    keeps: 'Wie er gehalten wird',
    rows: 'Die Zeilen hinter den Zahlen gehen mit hinaus, damit andere nachrechnen können. Namen stehen nicht darin.',
    ends: 'Letzter Tag des Links, falls er enden soll',
    passphrase: 'Ein Kennsatz, falls der Link allein nicht genügen soll',
    passphraseHint:
      'Acht Zeichen oder mehr. Er gehört auf einem anderen Weg mitgeteilt als der Link und wird hier nicht ' +
      'aufbewahrt, nur geprüft.',
  },
  sections: {
    findings: 'Was zu sehen war',
    measures: 'Die Tafel der Kennzahlen',
    matched: 'Gepaarte Kulturen',
    seasons: 'Über die Saisonen',
    why: 'Woher der Abstand kommt',
    gardens: 'Die Gärten',
    decided: 'Was beschlossen wurde',
    counting: 'Wie gezählt wurde',
  },
  pictures: {
    yields: 'Ertrag je Anbauweise',
    seasons: 'Zwei Anbauweisen, Saison für Saison',
    ways: 'Zwei Anbauweisen, auf jede Weise gezählt',
    crops: 'Zwei Anbauweisen, Kultur für Kultur',
    gap: 'Worin sich zwei Anbauweisen unterscheiden',
    labour: 'Arbeit durch die Saison, nach Art der Arbeit',
    running: 'Arbeit durch die Saison, zusammengezählt',
    losses: 'Was ausfiel, nach Ursache',
  },
  picturesTake: { ofSeveral: 'braucht mehrere Saisonen', ofOne: 'wird aus einer Saison gezeichnet' },
  picturesTitle: 'Bilder',
  leftOut: {
    ofSeveral: (titles: string) => `Nicht gezeichnet, weil es nur eine Saison ist: ${titles}.`,
    ofOne: (titles: string) => `Nicht gezeichnet, weil es mehrere Saisonen sind: ${titles}.`,
    notCarried: (titles: string) => `Nicht gezeichnet, weil das Aufgeschriebene es noch nicht trägt: ${titles}.`,
  },
  keeps: {
    frozen: 'eingefroren: die Zahlen, wie sie beim Fertigstellen stehen',
    live: 'laufend: die Zahlen des Tages, an dem er geöffnet wird',
  },
  noSections: 'Bitte mindestens einen Teil ankreuzen.',
  shortPassphrase: 'Bitte mindestens acht Zeichen.',
  preview: 'Erst ansehen',
  previewSay: 'So würde er aussehen. Nichts ist gespeichert, und sonst hat ihn niemand gesehen.',
  previewTitle: 'Noch nicht gespeichert',
  keepDraft: 'Als Entwurf behalten',
  draftKept: 'Der Entwurf ist gespeichert. Er kann sich ändern, bis er fertig ist.',
  draftSay: 'Dies ist ein Entwurf: er kann sich noch ändern, und kein Link führt zu ihm.',
  finish: 'Fertigstellen',
  changedMeanwhile:
    'Jemand anderes hat diesen Entwurf inzwischen geändert. Das Getippte steht unten und ist nicht gespeichert; ' +
    'die andere Fassung steht oben in der Liste. Noch einmal gesendet, tritt das Getippte an ihre Stelle.',
  frozen: 'Eingefroren. Nichts darin ändert sich mehr.',
  live: 'Er läuft: ein Link zu ihm zeigt die Zahlen des Tages.',
  finishedAlready: 'Dieser Bericht war schon fertig und blieb, wie er ist.',
  frozenOn: (day: string) => `Eingefroren am ${day}.`,
  liveOn: (day: string) =>
    `Laufend: dies sind die Zahlen vom ${day}. Sie ändern sich, solange weiter aufgeschrieben wird; ein zweiter ` +
    'Blick kann andere zeigen.',
  fromRecord: (number: string, version: string) =>
    `Aus den Aufzeichnungen bei ihrer Änderung Nummer ${number}; errechnet von Evenground ${version}.`,
  edition: (edition: number) => `Ausgabe ${edition}`,
  earlier: (edition: number, day: string) => `Eine frühere Fassung vom ${day} (Ausgabe ${edition})`,
  earlierLive: (edition: number) => `Eine frühere Fassung, laufend (Ausgabe ${edition})`,
  later: 'Von diesem Bericht gibt es eine spätere Fassung.',
  allEditions: (count: number) => `Von diesem Bericht gibt es ${ausgaben(count)}.`,
  writeLater: 'Eine spätere Ausgabe schreiben',
  about: (group: string, seasons: string) =>
    `Ein Bericht der Anbaugruppe ${group} über ihre Versuchsgärten (${seasons}): was gemessen wurde, auf welchem ` +
    'Boden, und was daraus nicht zu erkennen ist.',
  aboutLocked: 'Ein Bericht einer Anbaugruppe über ihre Versuchsgärten. Er fragt nach einem Kennsatz.',
  first: {
    beside: 'Nebeneinander',
    method: 'Anbauweise',
    cannot: 'Was sich daraus nicht sagen lässt.',
    readOn: 'Weiterlesen',
    measures: {
      marketablePerBed: { name: 'Ertrag', unit: (_currency: string) => 'verkaufsfähige kg je m² Beet' },
      hoursPerBed: { name: 'Arbeit', unit: (_currency: string) => 'Stunden je m² Beet, ohne Ernte' },
      hoursPerKg: { name: 'Arbeit je Kilogramm', unit: (_currency: string) => 'Stunden je kg, alle Arbeit' },
      costPerKg: { name: 'Betriebsmittel je Kilogramm', unit: (currency: string) => `${currency} je kg` },
    },
    figure: (figure: string, limit: string | null) =>
      limit === 'at least' ? `mindestens ${figure}` : limit === null ? figure : `${figure} bisher`,
    ratio: (mark: string, ratio: string | null, range: readonly [string, string] | null) =>
      mark === 'reference'
        ? 'die anderen stehen daneben'
        : ratio === null
          ? mark === 'one season'
            ? 'nicht daneben gestellt: eine Saison'
            : 'noch nicht vergleichbar'
          : range === null
            ? `das ${ratio}-Fache, ohne Intervall`
            : mark === 'unsayable'
              ? 'so wenige Saisonen können es nicht sagen'
              : `das ${ratio}-Fache, ${range[0]} bis ${range[1]}`,
    key:
      'Unter jeder Zahl das Wievielfache der Bezugsweise: links ein Viertel, rechts das 32-Fache, jeder Schritt ' +
      'doppelt so weit. Erträge stehen auf Kulturen daneben, die beide anbauten. Die Bereiche gelten für alle ' +
      'Paare zugleich und sind darum weiter als die eines einzelnen. Gefüllt: zu unterscheiden, nach einer vorher ' +
      'festgelegten Frage. Halb gefüllt: beim Umsehen zu unterscheiden. Ring: nicht zu unterscheiden.',
  },
  copy: 'Link kopieren',
  copied: 'Kopiert',
  meeting: {
    make: 'Ein Blatt mit dem Quadratcode, für ein Treffen',
    say: (group: string) => `Ein Bericht von ${group}. Kamera auf das Quadrat richten oder die Adresse eingeben.`,
    code: 'Die Adresse darunter als Quadratcode',
    back: 'Zum Bericht',
  },
  checksum: 'Prüfsumme seiner Zahlen (SHA-256)',
  checksumSay: 'über das, was in der JSON-Datei unter „figures“ steht, mit geordneten Schlüsseln und ohne Leerzeichen',
  printedFrom: 'Diese Seite',
  files: 'Die Zahlen als Dateien',
  json: 'Diese Zahlen als JSON',
  csv: {
    methods: 'Die Anbauweisen als CSV',
    'matched-crops': 'Die gepaarten Kulturen als CSV',
    totals: 'Die Summen, auf denen die Zahlen ruhen, als CSV',
    findings: 'Die Zahlen der Sätze als CSV',
    cautions: 'Die Zahlen zu dem, was sonst täuschen kann, als CSV',
    seasons: 'Das Verhältnis jeder Saison als CSV',
    replicates: 'Was mehrere Orte einer Anbauweise ergeben als CSV',
    gaps: 'Woher der Abstand kommt als CSV',
    'per-kg': 'Woher der Abstand bei Stunden und Kosten je kg kommt als CSV',
    'all-methods': 'Alle Anbauweisen auf einmal als CSV',
    losses: 'Ausfälle nach Ursache als CSV',
    labour: 'Arbeit nach Aufgabe als CSV',
    ground: 'Die Gärten als CSV',
  },
  rowsTitle: 'Die Zeilen dahinter',
  rowsSay:
    'Die Gruppe hat zugestimmt, dass die Zeilen mit den Zahlen hinausgehen: ganze Einheiten, keine Namen. Das ' +
    'Skript in R liest sie, zählt jede Zahl dieser Tabellen noch einmal und sagt Tabelle für Tabelle, wie weit ' +
    'sie davon entfernt sind; kann es eine Zahl aus den Zeilen nicht geben, sagt es warum.',
  rowTables: {
    seasons: 'Saisonen',
    methods: 'Anbauweisen',
    gardens: 'Gärten',
    beds: 'Beete',
    assignments: 'welche Anbauweise wo lag',
    plantings: 'Pflanzungen',
    harvests: 'Ernten',
    losses: 'Ausfälle',
    labour: 'Arbeit',
    spreadings: 'ausgebrachte Betriebsmittel mit Kosten',
    manured: 'roher Mist, nach Tagen',
    closings: 'abgeschlossene Wochen',
  },
  recompute: 'Das Skript in R',
  share: 'Einen Link zum Weitergeben machen',
  shareFirst: 'Ein Link kann gemacht werden, sobald der Bericht fertig ist.',
  linkSay: 'Wer diesen Link hat, kann den Bericht ohne Konto lesen. Er wird nur einmal gezeigt, hier:',
  linkLeads: 'Ein Link führt zur jüngsten fertigen Ausgabe.',
  links: 'Links',
  toLinks: 'Links zu diesem Bericht, und eine spätere Ausgabe',
  until: (day: string) => `bis ${day}`,
  noEnd: 'ohne Ende',
  withPassphrase: 'mit Kennsatz',
  tooManyLinks: (most: number) =>
    `Diese Gruppe hat ${most} offene Links, mehr darf sie nicht haben. ` +
    'Zuerst einen zurückziehen, den niemand mehr braucht.',
  revoked: 'zurückgezogen',
  revoke: 'Zurückziehen',
  revokedNow: 'Der Link ist zurückgezogen.',
  openedTitle: 'Wie oft er geöffnet wurde',
  openedSay:
    'Nach Tagen gezählt, jedes Mal wenn die Seite gesendet wurde; auch Programme, die Links ansehen, zählen mit. ' +
    'Wer sie geöffnet hat, wird nicht festgehalten.',
  openedDay: 'Tag',
  openedTimes: 'Mal',
  never: 'Er wurde noch nicht geöffnet.',
  locked: {
    title: 'Dieser Bericht fragt nach einem Kennsatz',
    say: 'Wer den Link geschickt hat, kennt ihn.',
    field: 'Kennsatz',
    open: 'Den Bericht öffnen',
    wrong: 'Das ist nicht der Kennsatz.',
  },
  names: {
    title: 'Wer in Berichten genannt werden darf',
    say:
      'Niemand wird in einem Bericht genannt, ohne zugestimmt zu haben und ohne dass es hier festgehalten ist. ' +
      'Wird es zurückgenommen, verschwindet der Name auch aus Berichten, die schon draußen sind; was andere ' +
      'gedruckt oder gespeichert haben, bleibt bei ihnen.',
    link: 'Wer genannt werden darf',
    tick: (name: string) => `${name} hat mir gesagt, dass der Name genannt werden darf`,
    save: 'Speichern',
    saved: 'Gespeichert.',
    people: 'Aufgeschrieben unter anderem von',
  },
  findingsNone: 'Noch ist nichts zu sagen: keine Kultur stand unter zwei Anbauweisen und ist geräumt.',
  oneSeason: 'Dieser Bericht handelt von einer Saison: noch steht nichts daneben.',
  whyOneSeason: 'Der Abstand wird Saison für Saison zerlegt; ein Bericht über eine Saison zeigt es.',
  gardens: {
    say:
      'Wo sie liegen, wie groß sie sind, was der Boden vorher war und wie viele dort arbeiten. Was sich hier ' +
      'unterscheidet, kann der Grund dafür sein, was sich in den Zahlen unterscheidet.',
    columns: {
      garden: 'Garten',
      method: 'Anbauweise',
      site: 'Liegt',
      gross: 'Mit Wegen',
      beds: 'Beete',
      before: 'Boden vorher',
      exposure: 'Lage',
      soil: 'Boden',
      people: 'Leute',
    },
    beds: (count: number, area: string) => `${count} ${plural(count, { one: 'Beet', other: 'Beete' })}, ${area}`,
    people: (writers: number, most: number) =>
      writers === 0 && most === 0
        ? 'keine Stunden aufgeschrieben'
        : `${writers === 0 ? '' : `${writers} schrieben Stunden auf, `}höchstens ${most} zugleich`,
    unknown: 'nicht aufgeschrieben',
    rules: 'Die Arbeitsregeln jeder Anbauweise',
    seasons: (count: number) => plural(count, { one: 'in 1 Saison', other: `in ${count} Saisonen` }),
    noRules: 'Es sind keine Arbeitsregeln aufgeschrieben.',
  },
  changedAfterClosing: (rows: number) =>
    'Diese Zahlen beruhen auf ' +
    plural(rows, { one: '1 Eintrag, der', other: `${rows} Einträgen, die` }) +
    ` nach dem Abschluss der Saison geschrieben oder geändert ${plural(rows, { one: 'wurde', other: 'wurden' })}.`,
  manure: {
    heading: 'Bald nach rohem Mist geerntet',
    say:
      'In diesen Zahlen sind Gewichte, die früher nach rohem Mist geerntet wurden, als die Wartezeit es vorsieht. ' +
      'Sie sind gezählt, wie es war. Ob man es essen durfte, ist damit nicht gesagt: Das entscheiden die Regeln ' +
      'vor Ort, vor allem bei dem, was roh gegessen wird.',
    tooSoon: (one: ManureTold) =>
      `${one.planting}, ${one.garden}: geerntet am ${one.picked}, ${days(one.waited)} nachdem ${one.input} (roh) ` +
      `auf sein Beet kam; die Wartezeit ist ${days(one.days)}` +
      (one.notKnown ? ', weil nicht bekannt ist, ob der essbare Teil den Boden berührt' : '') +
      '.',
    source:
      'Die Wartezeit ist die aus 7 CFR 205.203(c)(1), der Bio-Regel der Vereinigten Staaten: 120 Tage, wo der ' +
      'essbare Teil den Boden oder Erdteilchen berührt, sonst 90. Sie ist ein Anhaltspunkt und keine Freigabe.',
  },
  counting: {
    seasons: (names: string) => `Gezählte Saisonen: ${names}.`,
    lines: [
      'Ein Beet, das ausfiel, zählt als null, mit seiner Fläche; eine Pflanzung, die noch steht, macht eine Zahl ' +
        'zu „bisher“.',
      'Eine Woche, die niemand abgeschlossen hat, ist unbekannt und nicht null: mit solchen Wochen sind Stunden ' +
        '„mindestens“.',
      'Erträge sind je m² aller Beete einer Anbauweise, auch der leeren; gepaarte Kulturen je bepflanztem m².',
      'Eine geteilte Kiste und geteilte Stunden werden nach der Regel geteilt, die dabeisteht, aufs Gramm und ' +
        'auf die Minute.',
      'Die Kosten eines Betriebsmittels werden auf den Boden verteilt, auf dem es liegt, und auf die Saisonen, ' +
        'die es hält.',
      'Kulturen, Wochen und Beete eines Gartens sind keine Wiederholungen einer Anbauweise; das sind nur ' +
        'Saisonen oder Gärten.',
    ],
    coverage: 'Abgeschlossene Wochen je Anbauweise',
    more: 'Wie jede Zahl entsteht, mit Beispielen',
  },
}
