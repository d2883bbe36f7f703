export const problem = {
  'not-found': {
    heading: 'Hier ist nichts',
    say: 'Die Adresse ist vielleicht vertippt, oder sie gehört einer Gruppe, in der du nicht bist.',
  },
  'lets-nobody-in': {
    heading: 'Dieser Link lässt niemanden ein',
    say: 'Er ist vielleicht abgeschnitten, vorbei oder schon von allen genutzt. Bitte um einen neuen.',
  },
  'keepers-only': {
    heading: 'Das darf nur die Leitung',
    say: 'Bitte jemanden von der Leitung der Gruppe, oder darum, selbst dazuzugehören.',
  },
  'recorders-only': {
    heading: 'Das dürfen nur Aufschreibende und die Leitung',
    say: 'Du kannst alles lesen. Bitte die Leitung der Gruppe, dich aufschreiben zu lassen.',
  },
  'only-looking': {
    heading: 'Dieses Beispiel ist zum Ansehen da',
    say: 'Mit einem Konto bekommst du eine eigene Kopie: darin kannst du ändern, was du willst.',
  },
  'factor-first': {
    heading: 'Zuerst ein Passkey oder ein Code',
    say:
      'Eine Gruppe von dir verlangt mehr als ein Passwort. Nichts wurde gespeichert; zeig es, und tu das dann noch ' +
      'einmal.',
  },
  'foreign-form': {
    heading: 'Diesem Formular war nicht zu trauen',
    say:
      'Es war zu lange offen oder kam von einer anderen Seite. Geh zurück, lade die Seite neu und sende es noch ' +
      'einmal.',
  },
  'too-often': { heading: 'Zu viele Versuche', say: 'Warte eine Stunde, dann versuch es noch einmal.' },
  'sign-in-first': { heading: 'Bitte melde dich zuerst an', say: 'Diese Seite gehört einer Gruppe.' },
  'changed-meanwhile': {
    heading: 'Jemand anderes hat das inzwischen geändert',
    say: 'Von dir wurde nichts gespeichert. Beide Fassungen stehen unten.',
  },
  'other-person': {
    heading: 'Hier ist jemand anderes angemeldet',
    say:
      'Das hat eine andere Person auf diesem Gerät getippt. Nichts davon wurde gespeichert; es geht weiter, wenn ' +
      'sie sich wieder anmeldet.',
  },
  'against-rules': {
    heading: 'Das passt nicht zu den Aufzeichnungen',
    say: 'Nichts wurde gespeichert. Geh zurück, sieh dir an, was du geschrieben hast, und sende es noch einmal.',
  },
  'unreadable-report': {
    heading: 'Was dieser Bericht aufbewahrt hat, ist nicht zu lesen',
    say:
      'Er war eingefroren, und seine Zahlen sind nicht so, wie dieser Dienst sie schreibt: sie wurden beschädigt ' +
      'oder außerhalb geändert. Die Aufzeichnungen selbst sind unberührt; die Leitung der Gruppe kann den Bericht ' +
      'neu machen.',
  },
  'bad-request': {
    heading: 'Das war nicht zu lesen',
    say: 'Geh zurück, lade die Seite neu und sende es noch einmal.',
  },
  'no-room': {
    heading: 'Es ist kein Platz mehr',
    say:
      'Die Platte dieses Dienstes ist voll: Nichts von dem, was du gerade geschickt hast, wurde gespeichert, und ' +
      'nichts Gespeichertes ist verloren. Sag es denen, die ihn betreiben, und sende es noch einmal, sobald Platz ist.',
  },
  away: {
    heading: 'Die Datenbank antwortet nicht',
    say:
      'Was als gespeichert gemeldet wurde, ist sicher. Was du gerade geschickt hast, vielleicht nicht: warte einen ' +
      'Augenblick, sieh nach, ob es da ist, und wenn nicht, sende es noch einmal.',
  },
  broken: {
    heading: 'Hier ging etwas schief',
    say:
      'Es liegt nicht an dir, und nichts wurde halb gespeichert. Versuch es noch einmal; bleibt es so, sag es ' +
      'denen, die diesen Dienst betreiben.',
  },
}
