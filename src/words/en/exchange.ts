/** The exchange pages: a whole export, bringing one back, files of rows. */
export const exchange = {
  title: 'Exchange',
  lead: 'What this group has written down belongs to it. Here it goes out whole, and files of rows come in.',
  rowsSay:
    'Harvest weights, labour, plantings, inputs and soil tests that stand in a table elsewhere come in as a ' +
    'file: read and shown first, stored whole or not at all.',
  rowsLink: 'Bring in rows from a file',
  rowsRecorders: 'A keeper or a recorder of this group can bring them in.',
  export: {
    heading: 'Take everything with you',
    say:
      'One file with every table of this group as plain text: the rows as they stand, those marked as removed, and ' +
      'the whole history of changes. It follows the Data Package and Table Schema specifications, version 1, so ' +
      'that other programs can read it: days in ISO 8601, units as UCUM codes, the currency by its ISO 4217 code.',
    people:
      'People are in it by a number only: no names of members and no e-mail addresses. What was written by hand ' +
      'stays as it was written, such as who worked in a labour entry. Who is a member, open invitations, what ' +
      'single members guessed and whether they agreed to be named stay here, and so do the links of reports with ' +
      'their passphrases: make new links where the file is brought back. The history has a number for each such ' +
      'change and nothing of what it says.',
    again: 'Written twice from the same record by the same release, it is the same file, byte for byte.',
    spreadsheet:
      'It is made for programs. Values are kept exactly, but for one thing: a text that a spreadsheet would run ' +
      'as a formula stands behind a quote mark, which is taken off again when the file is brought back.',
    link: 'Download the whole export',
    keepers: 'A keeper of this group can download the whole export.',
    bringBack:
      'To bring an export back, sign in at the installation that shall hold it and choose "Bring back an export" ' +
      'on its front page.',
  },
  seal: {
    title: 'Signed',
    own: (fingerprint: string) =>
      `Each export is signed by the key of this installation, ${fingerprint}. Read this number to whoever brings one ` +
      'in elsewhere, by another way than the file: then they know that nobody changed it between.',
    told: {
      here: () => 'It came in as exported by this installation, unchanged.',
      by: (name: string) => `It came in as exported by ${name}, unchanged.`,
      notConfirmed: (fingerprint: string) =>
        `It came in unchanged since it was signed; the key is not confirmed: ${fingerprint}.`,
      changed: (fingerprint: string) => `It was changed since it was signed (${fingerprint || 'no key'}).`,
      noSignature: () => 'It came in without a signature: nobody can say whether it was changed.',
    } satisfies Record<string, (what: string) => string>,
    origin: 'Where this group came from',
    confirmSay:
      'Ask whoever exported it for the number of their installation, by telephone say. Where it is the same, give ' +
      'the key a name: you alone see it under this name.',
    name: 'Whose installation it is',
    confirm: 'The number is the same',
  },
  moving: {
    title: 'Move with its people',
    say:
      'The same file with the names and roles of the members. Where it is brought in they wait on the page People ' +
      'for an invitation that a keeper hands over: nobody is let in by the file, and no password is in it.',
    names: 'Download with names and roles',
    addresses: 'Download with e-mail addresses too',
  },
  descriptor: {
    description:
      'The whole record of one growing group: every table, with its history in "changes". Fields carry UCUM ' +
      'codes in "unit"; money is in the smallest unit of its currency. People are named by identifiers alone.',
    money: 'In the smallest unit of the currency (ISO 4217).',
    quantity: 'In thousandths of the unit that the row of "inputs" names; of a decision, that its own "unit" names.',
  },
  ending: {
    title: 'Delete the group',
    say: (days: number) =>
      `Everything in it goes: record, history, reports and their links, for everybody. It happens ${days} days after ` +
      'you ask, days on which this service rests not counted, and until then any keeper can call it back.',
    download: 'Download the whole export',
    give: 'Give that file here: so it is sure that somebody has it.',
    reason: 'Why',
    file: 'The export, as it was just downloaded',
    fileHint: 'A zip file. If somebody writes meanwhile, download it anew.',
    noFile: 'Choose the export of this group.',
    ofAnother: 'This is an export of another group.',
    older: 'Something was written since this export: download it anew.',
    ask: (days: number) => `Delete the group in ${days} days`,
    asked: 'The group is to be deleted. Everybody in it is told.',
    ends: (day: string) => `This group is deleted on ${day}, with everything in it.`,
    askedBy: (name: string, reason: string) => `${name} asked for it: ${reason}`,
    callBack: 'Call it back',
    calledBack: 'The group stays.',
  },
  bringIn: {
    title: 'Bring back an export',
    lead: 'Brings a whole group back from the file that "Exchange" of an installation wrote: all of it or nothing.',
    keeper:
      'You become its keeper. Those who wrote its rows are in it by a number only; invite people again as you ' +
      'need them. Links to its reports stay where they were: make new ones here.',
    file: 'The file',
    fileHint: 'A zip file, 512 MB at most.',
    send: 'Bring it back',
    noFile: 'Choose the file of an export.',
    broughtIn: 'Everything is back, with its history. You are the keeper.',
    refused: {
      noZip: () =>
        'This file is not a zip file, or it is damaged. Choose the file that "Download the whole export" gave.',
      noDescriptor: () =>
        'There is no datapackage.json of this service in the file. Choose the file as it was downloaded.',
      noGroup: () => 'The file holds no group with its settings, or more than one.',
      tooNew: () => 'This file was written by a later release. Bring this installation up to date first.',
      unknownTable: (table: string) =>
        `The file holds the table "${table}", which this release does not know. Bring this installation up to ` +
        'date first.',
      unknownColumn: (column: string) =>
        `The file holds the column "${column}", which this release does not know. Bring this installation up to ` +
        'date first.',
      damaged: (table: string) =>
        `The rows of "${table}" are not as they were written: the file is damaged or was changed. Nothing was ` +
        'brought in.',
      notItsGroup: (table: string) => `The table "${table}" holds rows of another group. Nothing was brought in.`,
      hereAlready: () =>
        'This group is in this installation already. Bringing it back here would write over what stands, so ' +
        'nothing was brought in.',
      againstRules: (where: string) => `The record's own rules refuse these rows (${where}). Nothing was brought in.`,
      tooLarge: () => 'This file is larger than this service takes at once.',
    } satisfies Record<string, (where: string) => string>,
  },
}
