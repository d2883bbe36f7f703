/** A heading and a sentence that says what to do next, for each thing that stops a request. */
export const problem = {
  'not-found': {
    heading: 'There is nothing here',
    say: 'The address may be mistyped, or it belongs to a group that you are not in.',
  },
  'lets-nobody-in': {
    heading: 'This link lets nobody in',
    say: 'It may be cut short, over, or used by as many as it was for. Ask whoever sent it for another.',
  },
  'keepers-only': { heading: 'Only keepers may do this', say: 'Ask a keeper of the group, or ask to be made one.' },
  'recorders-only': {
    heading: 'Only recorders and keepers may do this',
    say: 'You can read everything. Ask a keeper of the group to make you a recorder.',
  },
  'only-looking': {
    heading: 'This example is for looking at',
    say: 'Make an account and have a copy of your own: there you can change what you like.',
  },
  'factor-first': {
    heading: 'A passkey or a code first',
    say: 'A group of yours asks for more than a password. Nothing was saved; show it, and do this once more.',
  },
  'foreign-form': {
    heading: 'This form could not be trusted',
    say: 'It was opened too long ago, or came from another site. Go back, load the page again and send it once more.',
  },
  'too-often': { heading: 'Too many tries', say: 'Wait an hour, then try again.' },
  'sign-in-first': { heading: 'Please sign in first', say: 'This page belongs to a group.' },
  'changed-meanwhile': {
    heading: 'Somebody else changed this meanwhile',
    say: 'Nothing of yours was saved. Both versions stand below.',
  },
  'other-person': {
    heading: 'Somebody else is signed in here',
    say:
      'This was typed by another person on this device. Nothing of it was saved; it goes on when they sign in ' +
      'again.',
  },
  'against-rules': {
    heading: 'This does not fit the record',
    say: 'Nothing was saved. Go back, look at what you wrote, and send it once more.',
  },
  'unreadable-report': {
    heading: 'What this report kept cannot be read',
    say:
      'It was frozen, and its kept figures are not as this service writes them: they were damaged or changed ' +
      'outside. The record itself is untouched; a keeper can make the report anew.',
  },
  'bad-request': { heading: 'This could not be read', say: 'Go back, load the page again and send it once more.' },
  'no-room': {
    heading: 'There is no room left',
    say:
      'The disk of this service is full: nothing of what you have just sent was saved, and nothing saved before is ' +
      'lost. Tell whoever runs it, and send it again once there is room.',
  },
  away: {
    heading: 'The database does not answer',
    say:
      'What you were told is saved is safe. What you have just sent may not be: wait a moment, look whether it is ' +
      'there, and if not, send it again.',
  },
  broken: {
    heading: 'Something went wrong here',
    say: 'It is not your doing, and nothing was half saved. Try again; if it stays, tell whoever runs this service.',
  },
}
