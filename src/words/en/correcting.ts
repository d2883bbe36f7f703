import { plural } from './plural.ts'

export const correcting = {
  title: (name: string) => `Correct ${name}`,
  say: 'What stood before is kept in the history.',
  save: 'Save the correction',
  corrected: 'Corrected. The history keeps what stood before.',
  removed: 'Removed. The history keeps it.',
  reasonKept: 'corrected on its page',
  closedReason: 'Why it is corrected',
  closedHint: 'Its season or week is closed. The history keeps your reason, and Compare says what changed since.',
  closedAsks: 'This is closed. Say why it is corrected, or leave it as it stands.',
  meanwhile:
    'Someone else has changed this since you opened it, and nothing of yours is stored yet. Below stand both. ' +
    'Your words are in the form: save to write them over what stands now, or leave it.',
  field: 'Field',
  standsNow: 'As it stands now',
  yours: 'What you typed',
  removal: 'Remove it',
  removalSay: 'It stays in the history, with your reason, and counts no longer.',
  reason: 'Why',
  remove: 'Remove',
  back: 'Back without changing anything',
  correct: 'Correct',
  stillUsed: 'Other entries rest on this one. Remove or move those first.',
  anotherEntry:
    'This form was sent before: what it said then is stored, or was removed again. What it says now is another ' +
    'entry and not stored yet. Save it once more to store it beside the first; to put the first right, correct ' +
    'that one.',
  container: {
    title: (name: string) => `the container ${name}`,
    since: 'From which day it weighs that',
    sinceHint:
      'Blank: it always did. Weights from that day on are reckoned anew; a weight written later takes it too, ' +
      'whatever its day.',
    surely: 'The weights below are reckoned anew',
    notYet: 'not looked at yet',
    looked: 'yes, I have looked at them',
    changes: (count: number) =>
      plural(count, {
        one: 'This changes one weight. Look at it below and say that it is right.',
        other: `This changes ${count} weights. Look at them below and say that they are right.`,
      }),
    tooLight: (list: string) =>
      `The scale showed less than that on ${list}. Name a later day, or correct that weight first.`,
    caption: 'Weighed with it',
    columns: { what: 'What', day: 'Day', scale: 'Scale showed', now: 'Net now', anew: 'Net then' },
    closed: 'its week is closed: stays. Open the week and save here once more to change it',
    shared: 'a crate from several plantings',
  },
}
