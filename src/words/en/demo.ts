export const demo = {
  reports: {
    one: {
      title: 'What the last season showed',
      words: 'One season, five gardens, each grown in its own way.',
    },
    all: {
      title: 'Three seasons at Quern Hill',
      words: 'Three seasons, five gardens. Each way of growing stands on one garden, so this compares the gardens.',
    },
  },
  open: 'Look at a full example',
  openSay: 'Five invented gardens over three seasons. No account is needed, and nothing can be broken.',
  copy: 'Make a copy of the example to play with',
  copied: 'This copy is yours: change what you like.',
  visiting: 'An invented example.',
  signUp: 'Make a copy',
}
