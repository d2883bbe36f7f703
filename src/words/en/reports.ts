import { plural } from './plural.ts'

const editionsOf = (count: number) => plural(count, { one: '1 edition', other: `${count} editions` })

const days = (count: number) => plural(count, { one: '1 day', other: `${count} days` })

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
  title: 'Reports',
  intro:
    'A report shows a comparison to others, with a few sentences of yours. Frozen, it keeps the figures as they ' +
    'stand now and never changes again; live, it shows the figures of the day on which it is opened.',
  none: 'There is no report yet.',
  add: 'Write a report',
  addLater: (title: string) => `Write a later edition of “${title}”`,
  addLaterSay: 'Once it is finished it stands at the same links; the earlier one can still be reached from it.',
  columns: { report: 'Report', state: 'How it stands', edition: 'Edition' },
  states: { draft: 'draft, not shown to anyone outside', live: 'live' },
  fields: {
    title: 'Title',
    words: 'A few sentences of your own',
    wordsHint:
      'A blank line begins a paragraph, a line that begins with "- " a list; *so* leans, **so** is strong, ' +
      '[so](https://example.org) is a link. Nothing else is read as markup.',
    season: 'Of which season',
    sections: 'What stands on it',
    pictures: 'Pictures on it',
    picturesHint:
      'Each stands at the part it belongs to, with the table it was drawn from. “Look at it first” shows which ' +
      'of them the record can carry.',
    keeps: 'How it is kept',
    rows: 'The rows behind the figures go out with them, so that others can count again. No names are in them.',
    ends: 'Last day of the link, if it should end',
    passphrase: 'A passphrase, if the link alone should not be enough',
    passphraseHint: 'Eight letters or more. Tell it by another way than the link. It is not kept here, only checked.',
  },
  sections: {
    findings: 'What was seen',
    measures: 'The table of measures',
    matched: 'Matched crops',
    seasons: 'Over the seasons',
    why: 'Why the gap',
    gardens: 'The gardens',
    decided: 'What was decided',
    counting: 'How it was counted',
  },
  pictures: {
    yields: 'Yield by method',
    seasons: 'Two methods, season by season',
    ways: 'Two methods, counted in every way',
    crops: 'Two methods, crop by crop',
    gap: 'Why two methods differ',
    labour: 'Labour through the season, by kind of work',
    running: 'Labour added up through the season',
    losses: 'What was lost, by cause',
  },
  picturesTake: { ofSeveral: 'takes several seasons', ofOne: 'is drawn of one season' },
  picturesTitle: 'Pictures',
  leftOut: {
    ofSeveral: (titles: string) => `Not drawn, since there is one season alone: ${titles}.`,
    ofOne: (titles: string) => `Not drawn, since there are several seasons: ${titles}.`,
    notCarried: (titles: string) => `Not drawn, since what is written down does not carry it yet: ${titles}.`,
  },
  keeps: {
    frozen: 'frozen: the figures as they stand when it is finished',
    live: 'live: the figures of the day on which it is opened',
  },
  noSections: 'Please tick at least one part.',
  shortPassphrase: 'At least eight letters, please.',
  preview: 'Look at it first',
  previewSay: 'This is how it would look. Nothing is stored and nobody else has seen it.',
  previewTitle: 'Not stored yet',
  keepDraft: 'Keep as a draft',
  draftKept: 'The draft is kept. It can change until it is finished.',
  draftSay: 'This is a draft: it can still change, and no link leads to it.',
  finish: 'Finish it',
  changedMeanwhile:
    'Somebody else changed this draft meanwhile. What you typed stands below and is not stored; their version is ' +
    'at the top of the list. Send it again to put yours in its place.',
  frozen: 'Frozen. Nothing in it changes any more.',
  live: 'It is live: a link to it shows the figures of the day.',
  finishedAlready: 'This report was finished already and was not changed.',
  frozenOn: (day: string) => `Frozen on ${day}.`,
  liveOn: (day: string) =>
    `Live: these are the figures of ${day}. They change as the record is written on, so a second look may show others.`,
  fromRecord: (number: string, version: string) =>
    `From the record as it stood at its change number ${number}; worked out by Evenground ${version}.`,
  edition: (edition: number) => `Edition ${edition}`,
  earlier: (edition: number, day: string) => `An earlier version of ${day} (edition ${edition})`,
  earlierLive: (edition: number) => `An earlier version, live (edition ${edition})`,
  later: 'There is a later version of this report.',
  allEditions: (count: number) => `This report has ${editionsOf(count)}.`,
  writeLater: 'Write a later edition',
  about: (group: string, seasons: string) =>
    `A report of the growing group ${group} on its trial gardens (${seasons}): what was measured, on what ` +
    'ground, and what cannot be told from it.',
  aboutLocked: 'A report of a growing group on its trial gardens. It asks for a passphrase.',
  first: {
    beside: 'Side by side',
    method: 'Method',
    cannot: 'What this cannot say.',
    readOn: 'Read on',
    measures: {
      marketablePerBed: { name: 'Yield', unit: (_currency: string) => 'marketable kg a m² of bed' },
      hoursPerBed: { name: 'Work', unit: (_currency: string) => 'hours a m² of bed, without harvest' },
      hoursPerKg: { name: 'Work for a kilogram', unit: (_currency: string) => 'hours a marketable kg, all work' },
      costPerKg: { name: 'Inputs for a kilogram', unit: (currency: string) => `${currency} a marketable kg` },
    },
    figure: (figure: string, limit: string | null) =>
      limit === 'at least' ? `at least ${figure}` : limit === null ? figure : `${figure} so far`,
    ratio: (mark: string, ratio: string | null, range: readonly [string, string] | null) =>
      mark === 'reference'
        ? 'the others stand beside it'
        : ratio === null
          ? mark === 'one season'
            ? 'not held beside it: one season'
            : 'cannot be compared yet'
          : range === null
            ? `${ratio} times, no interval`
            : mark === 'unsayable'
              ? 'so few seasons cannot tell'
              : `${ratio} times, ${range[0]} to ${range[1]}`,
    key:
      'Beneath each figure, how many times the reference: from a quarter at the left to 32 times at the right, ' +
      'each step as far again. Yields are held beside it on crops that both grew. Ranges are wide enough for all ' +
      'pairs at once, so they are wider than those of one pair alone. Filled: told apart, by a question fixed ' +
      'beforehand. Half filled: told apart in looking around. Ring: could not be told apart.',
  },
  copy: 'Copy the link',
  copied: 'Copied',
  meeting: {
    make: 'A sheet with its square code, for a meeting',
    say: (group: string) => `A report of ${group}. Point a phone’s camera at the square, or type the address.`,
    code: 'The address below as a square code',
    back: 'To the report',
  },
  checksum: 'Checksum of its figures (SHA-256)',
  checksumSay: 'of what stands under “figures” in the JSON file, its keys sorted and without blanks',
  printedFrom: 'This page',
  files: 'The figures as files',
  json: 'These figures as JSON',
  csv: {
    methods: 'The methods as CSV',
    'matched-crops': 'The matched crops as CSV',
    totals: 'The sums that the figures rest on as CSV',
    findings: 'The figures of the sentences as CSV',
    cautions: 'The figures of what else can fool as CSV',
    seasons: 'The ratio of every season as CSV',
    replicates: 'What several places of a method give as CSV',
    gaps: 'Why the gap as CSV',
    'per-kg': 'Why the gap in hours and cost per kg as CSV',
    'all-methods': 'All methods at once as CSV',
    losses: 'Losses by cause as CSV',
    labour: 'Labour by task as CSV',
    ground: 'The gardens as CSV',
  },
  rowsTitle: 'The rows behind them',
  rowsSay:
    'The group agreed that the rows go out with the figures: whole units, no names. The script in R reads them, ' +
    'counts every figure of these tables again and says, table by table, how far they are from that; of a figure ' +
    'that the rows cannot give it says why.',
  rowTables: {
    seasons: 'seasons',
    methods: 'methods',
    gardens: 'gardens',
    beds: 'beds',
    assignments: 'which method lay where',
    plantings: 'plantings',
    harvests: 'harvests',
    losses: 'losses',
    labour: 'labour',
    spreadings: 'inputs spread, with their cost',
    manured: 'raw manure, by day',
    closings: 'closed weeks',
  },
  recompute: 'The script in R',
  share: 'Make a link to share',
  shareFirst: 'A link can be made once the report is finished.',
  linkSay: 'Whoever has this link can read the report, without an account. It is shown once, here:',
  linkLeads: 'A link leads to the latest finished edition.',
  links: 'Links',
  toLinks: 'Links to this report, and a later edition',
  until: (day: string) => `until ${day}`,
  noEnd: 'without an end',
  withPassphrase: 'with a passphrase',
  tooManyLinks: (most: number) =>
    `This group has ${most} links that are open, as many as it may have. Revoke one that nobody needs any more first.`,
  revoked: 'revoked',
  revoke: 'Revoke',
  revokedNow: 'The link is revoked.',
  openedTitle: 'How often it was opened',
  openedSay:
    'Counted by day, each time the page was sent; programs that look at links are in it. Nothing is kept about ' +
    'who opened it.',
  openedDay: 'Day',
  openedTimes: 'Times',
  never: 'It has not been opened yet.',
  locked: {
    title: 'This report asks for a passphrase',
    say: 'Whoever sent you the link knows it.',
    field: 'Passphrase',
    open: 'Open the report',
    wrong: 'This is not the passphrase.',
  },
  names: {
    title: 'Who may be named on reports',
    say:
      'Nobody is named on a report unless they agreed and a keeper wrote it down here. Taking it back takes the ' +
      'name off reports that are out already; what was printed or saved by others stays with them.',
    link: 'Who may be named',
    tick: (name: string) => `${name} has told me that they agree to be named`,
    save: 'Save',
    saved: 'Saved.',
    people: 'Written down by, among others',
  },
  findingsNone: 'There is nothing to say yet: no crop has stood under two methods and been cleared.',
  oneSeason: 'This report is of one season: there is nothing to set beside it yet.',
  whyOneSeason: 'The gap is split season by season; a report of one season shows it.',
  gardens: {
    say:
      'Where they lie, how large they are, what the ground was before and how many people work there. What differs ' +
      'here may be the reason for what differs in the figures.',
    columns: {
      garden: 'Garden',
      method: 'Method',
      site: 'Lies at',
      gross: 'With paths',
      beds: 'Beds',
      before: 'Ground before',
      exposure: 'Exposure',
      soil: 'Soil',
      people: 'People',
    },
    beds: (count: number, area: string) => `${count} ${plural(count, { one: 'bed', other: 'beds' })}, ${area}`,
    people: (writers: number, most: number) =>
      writers === 0 && most === 0
        ? 'no hours written down'
        : `${writers === 0 ? '' : `${writers} wrote hours down, `}at most ${most} at a time`,
    unknown: 'not written down',
    rules: 'The working rules of each method',
    seasons: (count: number) => plural(count, { one: 'in 1 season', other: `in ${count} seasons` }),
    noRules: 'No working rules are written down.',
  },
  changedAfterClosing: (rows: number) =>
    'These figures rest on ' +
    plural(rows, { one: '1 entry that was', other: `${rows} entries that were` }) +
    ' written or changed after their season had closed.',
  manure: {
    heading: 'Picked soon after raw manure',
    say:
      'These figures hold weights that were picked sooner after raw manure than the interval. They are counted as ' +
      'they happened. That is no word on whether the food was safe: local rules decide, above all where it is ' +
      'eaten raw.',
    tooSoon: (one: ManureTold) =>
      `${one.planting}, ${one.garden}: picked on ${one.picked}, ${days(one.waited)} after ${one.input} (raw) ` +
      `went on its bed; the interval is ${days(one.days)}` +
      (one.notKnown ? ', since it is not known whether the edible part touches the soil' : '') +
      '.',
    source:
      'The interval is that of 7 CFR 205.203(c)(1), the organic rule of the United States: 120 days where the ' +
      'edible part touches the soil or soil particles, 90 otherwise. It is a reference and no clearance.',
  },
  counting: {
    seasons: (names: string) => `Seasons counted: ${names}.`,
    lines: [
      'A bed that failed counts as zero, with its area in; a planting that still stands makes a figure “so far”.',
      'A week that nobody closed is unknown, not zero: with such weeks open, hours are “at least”.',
      'Yields are per m² of all beds of a method, also empty ones; matched crops are per m² planted.',
      'A shared crate and shared hours are divided by the rule that was written beside them, to the gram and the ' +
        'minute.',
      'The cost of an input is divided over the ground it was spread on and the seasons it lasts.',
      'Crops, weeks and beds of one garden are no repetitions of a method; only seasons or gardens are.',
    ],
    coverage: 'Weeks closed, by method',
    more: 'How every figure is made, with examples',
  },
}
