/** The page of one's own account. */
export const account = {
  title: 'Your account',
  link: 'Your account',
  name: 'Name',
  email: 'E-mail',
  saveName: 'Save the name',
  nameSaved: 'The name is saved.',
  addressTitle: 'Another address',
  saveAddress: 'Save the address',
  addressSaved: 'The address is saved: sign in with it from now on.',
  taken: 'There is an account with this address already.',
  passwordTitle: 'Another password',
  present: 'Your present password',
  fresh: 'The new one',
  freshHint: 'Ten letters or more. A short sentence is easy to keep in mind.',
  savePassword: 'Save the password',
  passwordSaved: 'The password is saved. Every other session has ended.',
  wrong: 'This is not the present password.',
  short: 'At least ten letters, please.',
  common:
    'This is among the passwords that are tried first, or close to your name. Take a sentence of four words or more.',
  sessions: 'Where you are signed in',
  sessionsSay: (days: number) =>
    `A session ends by itself after ${days} days without a page. End what you do not know.`,
  browser: 'Browser',
  begun: 'Signed in',
  used: 'Last used',
  passwordAlone: 'by the password alone',
  moreShown: 'with a passkey or a code',
  here: 'this one',
  browserOn: (browser: string, system: string) => `${browser} on ${system}`,
  unknownBrowser: 'A browser',
  unknownSystem: 'a system that it does not name',
  end: 'End it',
  endNamed: (what: string) => `End it: ${what}`,
  endOthers: 'End all others',
  ended: 'Ended.',
  resetTitle: 'A new password',
  resetSay: (address: string) => `For the account ${address}. All its sessions end with it.`,
  resetDone: 'The password is saved. Sign in with it.',
  forgottenLink: 'The password is forgotten',
  forgottenTitle: 'A forgotten password',
  forgotten: 'Whoever runs this service can make you a link to choose a new one: ask them.',
  forgottenSay: 'A link to choose a new one goes to the address of your account. It holds for an hour and once.',
  sendLink: 'Send the link',
  onItsWay: 'If there is an account with this address, a link is on its way to it.',
  letters: {
    link: (address: string) => ({
      subject: 'A new password',
      text:
        `Somebody asked for a new password for your account. If it was you, choose it here within an ` +
        `hour:\n\n${address}\n\n` +
        'If it was not, do nothing: without this link nothing changes.',
    }),
    passkeyAdded: (name: string) => ({
      subject: 'A passkey was added to your account',
      text:
        `The passkey “${name}” opens your account from now on. If it was not you who added it, take it away on the ` +
        'page of your account, and choose another password.',
    }),
    passkeyRemoved: (name: string) => ({
      subject: 'A passkey was taken away from your account',
      text:
        `The passkey “${name}” opens your account no more. If it was not you who took it away, ask whoever runs the ` +
        'service for a link to choose another password.',
    }),
    codesBegun: {
      subject: 'Your account asks for a code beside the password',
      text:
        'From now on a code is asked for at each sign-in. If it was not you who set it up, end it on the page of ' +
        'your account and choose another password; if you cannot come in, ask whoever runs the service.',
    },
    codesEnded: {
      subject: 'Your account asks for no code any more',
      text:
        'From now on no code is asked for at sign-in. If it was not you, choose another password and set codes up ' +
        'anew.',
    },
    passwordGivenUp: {
      subject: 'Your account has no password any more',
      text:
        'Your account opens by passkey alone from now on, and every other session has ended. If it was not you, ask ' +
        'whoever runs the service for a link to choose a password.',
    },
    password: {
      subject: 'Your password was changed',
      text:
        'The password of your account was changed, and every other session has ended. If it was not you, ask whoever ' +
        'runs the service for a link to choose another.',
    },
    address: (fresh: string) => ({
      subject: 'The address of your account was changed',
      text:
        `Your account has the address ${fresh} from now on. If it was not you who changed it, tell whoever runs the ` +
        'service.',
    }),
    factorAsked: (group: string) => ({
      subject: `${group} asks for more than a password`,
      text:
        `From now on the group ${group} opens only to those who have shown a passkey, or a code beside the password. ` +
        'Its pages lead you there, and back to where you were. What waits on a phone stays there and is sent after ' +
        'that.',
    }),
    factorNoMore: (group: string) => ({
      subject: `${group} opens by the password again`,
      text: `The group ${group} asks for no passkey and no code any more.`,
    }),
    role: (group: string, role: 'reader' | 'recorder' | 'keeper') => ({
      subject: `Your role in ${group}`,
      text:
        `In the group ${group} you are ${{ reader: 'a reader', recorder: 'a recorder', keeper: 'a keeper' }[role]} ` +
        'from now on.',
    }),
    ending: (group: string, day: string, reason: string) => ({
      subject: `${group} is to be deleted`,
      text:
        `A keeper asked to delete the group ${group}, with everything in it, on ${day}, or later where this service ` +
        `rests meanwhile. The reason: ${reason}\n\n` +
        'Until then any keeper can call it back, on its page.',
    }),
    calledBack: (group: string) => ({
      subject: `${group} stays`,
      text: `A keeper called back that the group ${group} is deleted.`,
    }),
    invited: (group: string, address: string) => ({
      subject: `An invitation to ${group}`,
      text: `The group ${group} has moved to another service. This link lets you in there:\n\n${address}`,
    }),
    takenOut: (group: string) => ({
      subject: `You are no longer in ${group}`,
      text: `A keeper took you out of the group ${group}. What you wrote down stays in its record.`,
    }),
  },
  deletion: 'Delete the account',
  deletionProof: 'First show a passkey or a code: in this browser you came in by your password alone.',
  deletionSay:
    'Your name and address go and you leave all groups. What you wrote down stays in their records, by nobody. ' +
    'This cannot be taken back.',
  keptAlone: (groups: string) =>
    `Not yet: without you ${groups} would have no keeper. Make someone else a keeper there first.`,
  deleteNow: 'Delete the account now',
  deleted: 'Your account is deleted.',
  waiting: {
    title: 'Since you were here',
    say: 'No mail is set up here. What would have come by letter stands here until you have read it.',
    none: 'Nothing waits to be read.',
    read: 'Read',
    goOn: 'Go on',
  },
  presence: {
    isShown: 'You have shown your passkey: no password is asked for, for some minutes.',
    showFirst: 'Show your passkey first.',
    show: 'Show your passkey',
  },
  proof: {
    title: 'A passkey or a code, please',
    asks: (group: string) => `The group ${group} opens only to those who have shown more than a password.`,
    say: 'Show more than your password: a passkey, or a code.',
    none: 'You have neither yet. Set up one of them, which takes some minutes; you come back to where you were.',
    show: 'Show the code',
    lost:
      'If you have lost it: a keeper can take you out of the group and invite you anew, and then you set up another. ' +
      'Or ask whoever runs this service.',
    link: 'Show a passkey or a code',
    onward: 'Go on to where you were',
  },
  passkeys: {
    title: 'Passkeys',
    link: (passkeys: string) => `Passkeys: ${passkeys}`,
    none: 'none',
    say:
      'A passkey opens your account by the lock of your phone, your computer or a key in the hand. It cannot be ' +
      'guessed, and no other address can ask for it.',
    isOn: 'Each of these opens your account without the password, and without a code beside it.',
    refused: {
      'no-origin':
        'There are no passkeys here yet: a passkey is bound to one address, and whoever runs this service has not ' +
        'named it (EVENGROUND_ORIGIN).',
      'no-name':
        'There are no passkeys here yet: browsers take them for an address with a name, and this service is reached ' +
        'by a number.',
      'no-tls': 'There are no passkeys here yet: browsers take them behind https alone.',
    },
    needsScripts: 'To add or show one, a browser is needed that knows passkeys and runs scripts.',
    name: 'Name',
    nameHint: 'By which you know the device: “blue phone”.',
    addedOn: 'Added',
    used: 'Last used',
    neverUsed: 'never',
    addTitle: 'Add a passkey',
    add: 'Add it',
    added: 'The passkey is added.',
    notAdded: 'It was not added: it is somebody’s already, or there are too many.',
    renameTitle: 'Give one another name',
    which: 'Which one',
    newName: 'Its new name',
    rename: 'Save the name',
    renamed: 'The name is saved.',
    removeTitle: 'Take one away',
    remove: 'Take it away',
    removed: 'It opens your account no more. Take it from the device too.',
    last: 'Not this one: it is your only way in. Choose a password or add another passkey first.',
    aloneTitle: 'Do without a password',
    aloneSay:
      'Your account then opens by passkey alone. Have two, on two devices. If all are lost, a link for a forgotten ' +
      'password lets you choose one again.',
    alone: 'Give up the password',
    givenUp: 'The password is gone. Every other session has ended.',
    noneYet: 'Add a passkey first.',
    isShown: 'It is you.',
    signIn: 'Sign in with a passkey',
    wrong: 'This passkey did not open it. Try again, or come in another way.',
    failed: 'The device showed no passkey for this address.',
  },
  codes: {
    title: 'A code beside the password',
    off: 'A code beside the password: not asked for',
    on: 'A code beside the password: asked for',
    say:
      'A program of codes on your phone shows six digits that change every half minute. With it a stolen password ' +
      'alone opens nothing.',
    begin: 'Set it up',
    scan:
      'Read this square with a program of codes, or type the letters into it. Then type the six digits that it ' +
      'shows.',
    square: 'The key as a square code',
    letters: 'The key in letters',
    code: 'The six digits',
    confirm: 'Ask for it from now on',
    isOn: 'It is asked for at each sign-in.',
    left: (codes: string) => `Of the ten codes to come back by, ${codes} are left.`,
    recoveryTitle: 'Ten codes to come back by',
    recoverySay:
      'They are shown only now. Each opens the account once in place of the six digits, if the phone is lost. ' +
      'Keep them on paper.',
    end: 'Ask for it no more',
    ended: 'No code is asked for any more.',
    wrong: 'This code is not right, or was used already. Wait for the next one.',
    askTitle: 'The code, please',
    askSay: 'The six digits that your program of codes shows, or one of the codes to come back by.',
    askCode: 'Code',
    back: 'Back to your account',
  },
}
