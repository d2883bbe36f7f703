export const account = {
  title: 'Dein Konto',
  link: 'Dein Konto',
  name: 'Dein Name',
  email: 'E-Mail',
  saveName: 'Namen speichern',
  nameSaved: 'Der Name ist gespeichert.',
  addressTitle: 'Eine andere Adresse',
  saveAddress: 'Adresse speichern',
  addressSaved: 'Die Adresse ist gespeichert: melde dich ab jetzt mit ihr an.',
  taken: 'Mit dieser Adresse gibt es schon ein Konto.',
  passwordTitle: 'Ein anderes Passwort',
  present: 'Dein jetziges Passwort',
  fresh: 'Das neue',
  freshHint: 'Zehn Zeichen oder mehr. Ein kurzer Satz ist leicht zu merken.',
  savePassword: 'Passwort speichern',
  passwordSaved: 'Das Passwort ist gespeichert. Alle anderen Sitzungen sind beendet.',
  wrong: 'Das ist nicht das jetzige Passwort.',
  short: 'Bitte mindestens zehn Zeichen.',
  common:
    'Das gehört zu den Passwörtern, die zuerst versucht werden, oder ist deinem Namen nahe. Nimm einen Satz aus ' +
    'vier Wörtern oder mehr.',
  sessions: 'Wo du angemeldet bist',
  sessionsSay: (days: number) =>
    `Eine Sitzung endet von selbst, wenn ${days} Tage lang keine Seite geöffnet wird. Beende, was du nicht kennst.`,
  browser: 'Browser und System',
  begun: 'Angemeldet',
  used: 'Zuletzt benutzt',
  here: 'hier',
  browserOn: (browser: string, system: string) => `${browser} auf ${system}`,
  unknownBrowser: 'Ein Browser',
  unknownSystem: 'einem System, das er nicht nennt',
  end: 'Beenden',
  endNamed: (what: string) => `Die Sitzung von ${what} beenden`,
  endOthers: 'Alle anderen beenden',
  ended: 'Beendet.',
  resetTitle: 'Ein neues Passwort',
  resetSay: (address: string) => `Für das Konto ${address}. Alle seine Sitzungen enden damit.`,
  resetDone: 'Das Passwort ist gespeichert. Melde dich damit an.',
  forgottenLink: 'Das Passwort ist vergessen',
  forgottenTitle: 'Ein vergessenes Passwort',
  forgotten: 'Wer diesen Dienst betreibt, kann dir einen Link machen, über den du ein neues wählst: frag dort nach.',
  forgottenSay:
    'Ein Link, über den du ein neues wählst, geht an die Adresse deines Kontos. Er gilt eine Stunde und einmal.',
  sendLink: 'Den Link schicken',
  onItsWay: 'Wenn es ein Konto mit dieser Adresse gibt, ist ein Link dorthin unterwegs.',
  letters: {
    link: (address: string) => ({
      subject: 'Ein neues Passwort',
      text:
        `Jemand hat für dein Konto ein neues Passwort verlangt. Warst du es, so wähle es hier binnen einer ` +
        `Stunde:\n\n${address}\n\n` +
        'Warst du es nicht, so tu nichts: ohne diesen Link ändert sich nichts.',
    }),
    password: {
      subject: 'Dein Passwort wurde geändert',
      text:
        'Das Passwort deines Kontos wurde geändert, und alle anderen Sitzungen sind beendet. Warst du es nicht, so ' +
        'bitte die, die den Dienst betreiben, um einen Link für ein anderes.',
    },
    address: (fresh: string) => ({
      subject: 'Die Adresse deines Kontos wurde geändert',
      text:
        `Dein Konto hat von nun an die Adresse ${fresh}. Hast du sie nicht geändert, so sag es denen, die den Dienst ` +
        'betreiben: dieser Brief ging an die bisherige Adresse.',
    }),
    role: (group: string, role: 'reader' | 'recorder' | 'keeper') => ({
      subject: `Deine Rolle in ${group}`,
      text:
        `In der Gruppe ${group}: du ${{ reader: 'liest', recorder: 'trägst ein', keeper: 'leitest' }[role]} ` +
        'von nun an.',
    }),
    ending: (group: string, day: string, reason: string) => ({
      subject: `${group} soll gelöscht werden`,
      text:
        `Die Gruppe ${group} soll mit allem, was darin steht, am ${day} gelöscht werden. Der Grund: ${reason}\n\n` +
        'Bis dahin kann, wer sie leitet, das auf ihrer Seite zurücknehmen.',
    }),
    calledBack: (group: string) => ({
      subject: `${group} bleibt`,
      text: `Dass die Gruppe ${group} gelöscht wird, ist zurückgenommen.`,
    }),
    takenOut: (group: string) => ({
      subject: `Du bist nicht mehr in ${group}`,
      text: `Du wurdest aus der Gruppe ${group} genommen. Was du geschrieben hast, bleibt in ihren Aufzeichnungen.`,
    }),
  },
  deletion: 'Konto löschen',
  deletionSay:
    'Dein Name und deine Adresse verschwinden, und du verlässt alle Gruppen. Was du aufgeschrieben hast, bleibt ' +
    'in ihrem Buch, von niemandem. Das lässt sich nicht zurücknehmen.',
  keptAlone: (groups: string) =>
    `Noch nicht: Ohne dich hätte ${groups} niemanden, der sie verwaltet. Gib dort zuerst jemandem die Verwaltung.`,
  deleteNow: 'Das Konto jetzt löschen',
  deleted: 'Dein Konto ist gelöscht.',
  codes: {
    title: 'Ein Code neben dem Passwort',
    off: 'Ein Code neben dem Passwort: wird nicht verlangt',
    on: 'Ein Code neben dem Passwort: wird verlangt',
    say:
      'Ein Code-Programm auf deinem Telefon zeigt sechs Ziffern, die alle halbe Minute wechseln. Damit öffnet ein ' +
      'gestohlenes Passwort allein nichts.',
    begin: 'Einrichten',
    scan:
      'Lies dieses Quadrat mit einem Code-Programm ein oder tippe die Buchstaben dort ab. Schreib dann die sechs ' +
      'Ziffern, die es zeigt.',
    square: 'Der Schlüssel als Quadrat',
    letters: 'Der Schlüssel in Buchstaben',
    code: 'Die sechs Ziffern',
    confirm: 'Ab jetzt verlangen',
    isOn: 'Er wird bei jeder Anmeldung verlangt.',
    left: (codes: string) => `Von den zehn Codes für den Notfall sind noch ${codes} übrig.`,
    recoveryTitle: 'Zehn Codes für den Notfall',
    recoverySay:
      'Sie werden nur jetzt gezeigt. Jeder öffnet das Konto einmal anstelle der sechs Ziffern, wenn das Telefon ' +
      'weg ist. Heb sie auf Papier auf.',
    end: 'Nicht mehr verlangen',
    ended: 'Es wird kein Code mehr verlangt.',
    wrong: 'Dieser Code stimmt nicht oder wurde schon benutzt. Warte auf den nächsten.',
    askTitle: 'Bitte den Code',
    askSay: 'Die sechs Ziffern, die dein Code-Programm zeigt, oder einer der Codes für den Notfall.',
    askCode: 'Dein Code',
    back: 'Zurück zum Konto',
  },
}
