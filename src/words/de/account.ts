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
  passwordAlone: 'nur mit dem Passwort',
  moreShown: 'mit Passkey oder Code',
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
    passkeyAdded: (name: string) => ({
      subject: 'Zu deinem Konto kam ein Passkey',
      text:
        `Der Passkey „${name}“ öffnet ab jetzt dein Konto. Hast nicht du ihn hinzugefügt, so nimm ihn auf der Seite ` +
        'deines Kontos weg und wähle ein anderes Passwort.',
    }),
    passkeyRemoved: (name: string) => ({
      subject: 'Ein Passkey deines Kontos wurde weggenommen',
      text:
        `Der Passkey „${name}“ öffnet dein Konto nicht mehr. Hast nicht du ihn weggenommen, so bitte die, die den ` +
        'Dienst betreiben, um einen Link für ein anderes Passwort.',
    }),
    codesBegun: {
      subject: 'Dein Konto verlangt einen Code neben dem Passwort',
      text:
        'Von nun an wird bei jeder Anmeldung ein Code verlangt. Hast nicht du das eingerichtet, so beende es auf der ' +
        'Seite deines Kontos und wähle ein anderes Passwort; kommst du nicht hinein, so frag die, die den Dienst ' +
        'betreiben.',
    },
    codesEnded: {
      subject: 'Dein Konto verlangt keinen Code mehr',
      text:
        'Von nun an wird bei der Anmeldung kein Code mehr verlangt. Warst du es nicht, so wähle ein anderes Passwort ' +
        'und richte die Codes neu ein.',
    },
    passwordGivenUp: {
      subject: 'Dein Konto hat kein Passwort mehr',
      text:
        'Dein Konto öffnet sich ab jetzt nur noch mit einem Passkey, und alle anderen Sitzungen sind beendet. Warst ' +
        'du es nicht, so bitte die, die den Dienst betreiben, um einen Link für ein Passwort.',
    },
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
        'betreiben.',
    }),
    factorAsked: (group: string) => ({
      subject: `${group} verlangt mehr als ein Passwort`,
      text:
        `Die Gruppe ${group} öffnet sich von nun an nur, wenn ein Passkey gezeigt wurde oder ein Code neben dem ` +
        'Passwort. Ihre Seiten führen dich dorthin und wieder zurück. Was auf einem Telefon wartet, bleibt dort und ' +
        'wird danach gesendet.',
    }),
    factorNoMore: (group: string) => ({
      subject: `${group} öffnet sich wieder mit dem Passwort`,
      text: `Die Gruppe ${group} verlangt weder Passkey noch Code mehr.`,
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
        `Die Gruppe ${group} soll mit allem, was darin steht, am ${day} gelöscht werden, oder später, wenn dieser ` +
        `Dienst bis dahin ruht. Der Grund: ${reason}\n\n` +
        'Bis dahin kann, wer sie leitet, das auf ihrer Seite zurücknehmen.',
    }),
    calledBack: (group: string) => ({
      subject: `${group} bleibt`,
      text: `Dass die Gruppe ${group} gelöscht wird, ist zurückgenommen.`,
    }),
    invited: (group: string, address: string) => ({
      subject: `Eine Einladung zu ${group}`,
      text: `Die Gruppe ${group} ist zu einem anderen Dienst umgezogen. Dort lässt dich dieser Link ein:\n\n${address}`,
    }),
    takenOut: (group: string) => ({
      subject: `Du bist nicht mehr in ${group}`,
      text: `Du wurdest aus der Gruppe ${group} genommen. Was du geschrieben hast, bleibt in ihren Aufzeichnungen.`,
    }),
  },
  deletion: 'Konto löschen',
  deletionProof:
    'Zeig zuerst einen Passkey oder einen Code: In diesem Browser bist du allein mit dem Passwort angemeldet.',
  deletionSay:
    'Dein Name und deine Adresse verschwinden, und du verlässt alle Gruppen. Was du aufgeschrieben hast, bleibt ' +
    'in ihrem Buch, von niemandem. Das lässt sich nicht zurücknehmen.',
  keptAlone: (groups: string) =>
    `Noch nicht: Ohne dich hätte ${groups} niemanden, der sie verwaltet. Gib dort zuerst jemandem die Verwaltung.`,
  deleteNow: 'Das Konto jetzt löschen',
  deleted: 'Dein Konto ist gelöscht.',
  waiting: {
    title: 'Seit du hier warst',
    say: 'Hier ist keine Post eingerichtet. Was als Brief gekommen wäre, steht hier, bis du es gelesen hast.',
    none: 'Nichts wartet darauf, gelesen zu werden.',
    read: 'Gelesen',
    goOn: 'Weiter',
  },
  presence: {
    isShown: 'Du hast deinen Passkey gezeigt: einige Minuten lang wird nach keinem Passwort gefragt.',
    showFirst: 'Zeig zuerst deinen Passkey.',
    show: 'Passkey zeigen',
  },
  proof: {
    title: 'Bitte ein Passkey oder ein Code',
    asks: (group: string) => `Die Gruppe ${group} öffnet sich nur, wenn mehr als ein Passwort gezeigt wurde.`,
    say: 'Zeig mehr als dein Passwort: einen Passkey oder einen Code.',
    none: 'Du hast noch keines von beiden. Richte eines ein, das dauert einige Minuten; dann geht es hier weiter.',
    show: 'Den Code zeigen',
    lost:
      'Ist es verloren: Wer die Gruppe verwaltet, kann dich herausnehmen und neu einladen, dann richtest du ein ' +
      'anderes ein. Oder frag die, die diesen Dienst betreiben.',
    link: 'Passkey oder Code zeigen',
    onward: 'Weiter, wo du warst',
  },
  passkeys: {
    title: 'Passkeys',
    link: (passkeys: string) => `Passkeys: ${passkeys}`,
    none: 'keine',
    say:
      'Ein Passkey öffnet dein Konto mit der Sperre deines Telefons, deines Rechners oder mit einem Schlüssel in der ' +
      'Hand. Er ist nicht zu erraten, und keine andere Adresse kann nach ihm fragen.',
    isOn: 'Jeder von diesen öffnet dein Konto ohne Passwort und ohne Code daneben.',
    refused: {
      'no-origin':
        'Hier gibt es noch keine Passkeys: ein Passkey gehört zu einer Adresse, und wer diesen Dienst betreibt, hat ' +
        'sie nicht genannt (EVENGROUND_ORIGIN).',
      'no-name':
        'Hier gibt es noch keine Passkeys: Browser nehmen sie für eine Adresse mit einem Namen, und dieser Dienst ' +
        'wird über eine Zahl erreicht.',
      'no-tls': 'Hier gibt es noch keine Passkeys: Browser nehmen sie nur hinter https.',
    },
    needsScripts:
      'Um einen hinzuzufügen oder zu zeigen, braucht es einen Browser, der Passkeys kennt und Skripte ausführt.',
    name: 'Name',
    nameHint: 'Woran du das Gerät erkennst: „blaues Telefon“.',
    addedOn: 'Hinzugefügt',
    used: 'Zuletzt benutzt',
    neverUsed: 'nie',
    addTitle: 'Einen Passkey hinzufügen',
    add: 'Hinzufügen',
    added: 'Der Passkey ist hinzugefügt.',
    notAdded: 'Er wurde nicht hinzugefügt: er gehört schon jemandem, oder es sind zu viele.',
    renameTitle: 'Einem einen anderen Namen geben',
    which: 'Welchem oder welchen',
    newName: 'Der neue Name',
    rename: 'Namen speichern',
    renamed: 'Der Name ist gespeichert.',
    removeTitle: 'Einen wegnehmen',
    remove: 'Wegnehmen',
    removed: 'Er öffnet dein Konto nicht mehr. Nimm ihn auch vom Gerät.',
    last: 'Diesen nicht: er ist dein einziger Weg hinein. Wähle zuerst ein Passwort oder füge einen zweiten hinzu.',
    aloneTitle: 'Ohne Passwort',
    aloneSay:
      'Dein Konto öffnet sich dann nur noch mit einem Passkey. Halte zwei, auf zwei Geräten. Sind alle verloren, so ' +
      'lässt ein Link für ein vergessenes Passwort dich wieder eines wählen.',
    alone: 'Das Passwort aufgeben',
    givenUp: 'Das Passwort ist fort. Alle anderen Sitzungen sind beendet.',
    noneYet: 'Füge zuerst einen Passkey hinzu.',
    isShown: 'Du bist es.',
    signIn: 'Mit einem Passkey anmelden',
    wrong: 'Dieser Passkey hat nicht geöffnet. Versuch es noch einmal, oder komm auf anderem Weg herein.',
    failed: 'Das Gerät hat keinen Passkey für diese Adresse gezeigt.',
  },
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
