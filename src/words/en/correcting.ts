export const correcting = {
  title: (name: string) => `Correct ${name}`,
  say: 'What stood before is kept in the history.',
  save: 'Save the correction',
  corrected: 'Corrected. The history keeps what stood before.',
  removed: 'Removed. The history keeps it.',
  reasonKept: 'corrected on its page',
  meanwhile:
    'Someone else has changed this since you opened it, and nothing of yours is stored yet. Below stand both. Your words are in the form: save to write them over what stands now, or leave it.',
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
    'This form was sent before: what it said then is stored, or was removed again. What it says now is another entry and not stored yet. Save it once more to store it beside the first; to put the first right, correct that one.',
}
