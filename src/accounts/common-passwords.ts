/**
 * Passwords that are tried first. The words were written down by hand for this service, from what is widely known of
 * habits: no collection of stolen passwords was read for it, so the list is short and knows nothing of a password that
 * leaked elsewhere. It is made longer by its rules: digits and marks around a word, letters written as figures, a word
 * twice or two words, and rows of a keyboard are seen through.
 */
const words = new Set(
  `
  password passwort passwords passw passwd pass word kennwort geheim secret letmein welcome willkommen hallo hello
  access admin administrator root user guest login master superuser system server default changeme change please test
  testing tester temp temporary example sample demo qwerty qwertz azerty asdf asdfgh asdfghjkl zxcvbn yxcvbn qazwsx
  qazwsxedc iloveyou loveyou love lovely lover ichliebe liebe dich schatz schatzi sweetheart darling honey baby
  babygirl babyboy angel princess prinzessin prince queen king dragon monkey tiger lion panther bear horse pferd hund
  katze mausi maus doggy puppy kitty kitten butterfly schmetterling dolphin sunshine sonnenschein sonne sun moon star
  stars stern flower blume rainbow summer sommer winter spring autumn herbst january february march april june july
  august september october november december monday tuesday wednesday thursday friday saturday sunday football
  fussball soccer baseball basketball hockey tennis superman batman spiderman starwars pokemon ninja samurai wizard
  merlin shadow ghost killer hunter ranger soldier freedom freiheit hope trust faith jesus christ god heaven blessed
  forever family familie mother mutter mama father vater papa sister brother friend friends freunde michael jennifer
  jessica daniel thomas andrew anthony joshua matthew robert jordan charlie george maggie ashley nicole michelle
  hannah sophie andreas stefan martin peter sabine claudia computer internet website google facebook youtube instagram
  samsung iphone windows microsoft linux apple banana orange cherry chocolate schokolade cheese coffee kaffee cookie
  pepper ginger summerlove whatever nothing nichts something trustno trustnoone mustang ferrari porsche mercedes
  corvette harley yamaha money geld bitcoin dollar lucky glueck happy smile purple yellow green blue black white
  silver golden gold diamond london paris berlin germany deutschland america england austria oesterreich garden garten
  gardener gaertner tomato tomate potato kartoffel farmer bauer harvest ernte compost kompost evenground my mein meine
  the das ist is is it am ich you me new neu one two three abc abcd abcdef aaa xxx
  `
    .trim()
    .split(/\s+/),
)

const rows = ['01234567890', 'qwertyuiop', 'qwertzuiop', 'azertyuiop', 'asdfghjkl', 'zxcvbnm', 'yxcvbnm']
const walks = [
  ...rows,
  'abcdefghijklmnopqrstuvwxyz',
  '1q2w3e4r5t6z7u8i9o0p',
  '1q2w3e4r5t6y7u8i9o0p',
  '1qaz2wsx3edc4rfv5tgb',
]
const bothWays = walks.flatMap((walk) => [walk, [...walk].reverse().join('')])

const figures: Readonly<Record<string, string>> = {
  0: 'o',
  1: 'i',
  3: 'e',
  4: 'a',
  5: 's',
  7: 't',
  '@': 'a',
  $: 's',
  '!': 'i',
}

/** Whether a password is among those tried first, or is little but a name or an address of its own person. */
export function isCommon(password: string, ofPerson: readonly string[]): boolean {
  const plain = password.normalize('NFKC').toLowerCase()
  if (new Set(plain).size < 5 || isWalk(plain)) return true
  const own = new Set(ofPerson.flatMap(partsOf))
  const readings = [core(plain), core(lettersFor(core(plain))), core(lettersFor(plain))].map(lettersOf)
  return readings.some((text) => text !== '' && (own.has(text) || isMadeOf(text, own)))
}

/** "Ada Rook" and "ada.rook@example.org" to the words that someone would try who knows them. */
function partsOf(said: string): string[] {
  const lower = said.normalize('NFKC').toLowerCase()
  const parts = lower.split(/[^\p{L}\p{N}]/u).filter((part) => part.length >= 3)
  return [...parts, parts.join('')].filter((part) => part !== '')
}

const isLetter = (letter: string) => /\p{L}/u.test(letter)

/** Without what stands around the first and last letter. */
const core = (text: string) => {
  const letters = [...text]
  return letters.slice(letters.findIndex(isLetter), letters.findLastIndex(isLetter) + 1).join('')
}

const lettersFor = (text: string) => [...text].map((letter) => figures[letter] ?? letter).join('')
const lettersOf = (text: string) => [...text].filter(isLetter).join('')

/** At most three words of the list, or of the person's own, and nothing between them. */
function isMadeOf(text: string, own: ReadonlySet<string>, most = 3): boolean {
  if (text === '') return true
  if (most === 0 || text.length > 60) return false
  return Array.from({ length: text.length }, (_, i) => i + 1).some((end) => {
    const word = text.slice(0, end)
    return (words.has(word) || own.has(word)) && isMadeOf(text.slice(end), own, most - 1)
  })
}

/** Made of pieces of a walk over the keys, or of the alphabet, three keys or more each. */
function isWalk(text: string): boolean {
  let at = 0
  while (at < text.length) {
    const longest = longestPiece(text.slice(at))
    if (longest < 3) return text.length - at <= 1
    at += longest
  }
  return true
}

function longestPiece(text: string): number {
  let length = 0
  while (length < text.length && bothWays.some((walk) => walk.includes(text.slice(0, length + 1)))) length++
  return length
}
