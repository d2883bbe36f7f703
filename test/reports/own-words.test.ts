import { Eta } from 'eta'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readOwnWords } from '../../src/reports/own-words.ts'

const eta = new Eta({ views: 'views', cache: true, autoTrim: [false, 'nl'] })
const written = (typed: string) => eta.render('/reports/words', { blocks: readOwnWords(typed) }).trim()

/** Every tag that may stand in a keeper's words, whole, attributes and all. Whatever else begins with "<" fails. */
const allowed =
  /<(?:\/?(?:p|ol|ul|li|strong|em)|ul class="lines"|ol class="numbered"|\/a|a href="https?:\/\/[^\s"<>'`\\]*" rel="nofollow noopener noreferrer")>/g
const leftOver = (html: string) => html.replace(allowed, '').match(/[<>]/g) ?? []

describe('a keeper writes a few sentences', () => {
  it.each([
    ['A wet spring.\n\nSlugs *too*.', '<p>A wet spring.</p>\n<p>Slugs <em>too</em>.</p>'],
    ['one\nline', '<p>one line</p>'],
    ['**Very _dry_** days', '<p><strong>Very <em>dry</em></strong> days</p>'],
    ['Seen:\n- slugs\n- rust', '<p>Seen:</p>\n<ul class="lines"><li>slugs</li>\n<li>rust</li>\n</ul>'],
    ['1. dig\n2. sow', '<ol class="numbered"><li>dig</li>\n<li>sow</li>\n</ol>'],
    [
      'See [the rules](https://example.org/a?b=1&c=2).',
      '<p>See <a href="https://example.org/a?b=1&amp;c=2" rel="nofollow noopener noreferrer">the rules</a>.</p>',
    ],
    ['[x](javascript:alert(1))', '<p>[x](javascript:alert(1))</p>'],
    ['[x](https://a"onclick=b)', '<p>[x](https://a&quot;onclick=b)</p>'],
    ['2 * 3 * 4 and row_of_beds', '<p>2 * 3 * 4 and row_of_beds</p>'],
    ['\\*not so\\*', '<p>*not so*</p>'],
    ['<b>Slugs</b> & mice', '<p>&lt;b&gt;Slugs&lt;/b&gt; &amp; mice</p>'],
    ['  \n\n \n', ''],
  ])('%j', (typed, html) => {
    expect(written(typed)).toBe(html)
  })
})

const hostile = fc.constantFrom(
  ...[
    '<script>alert(1)</script>',
    '<img src=x onerror=alert(1)>',
    '"><svg onload=1>',
    '[a](',
    '](http://a)',
    '**',
    '*',
    '_',
    '\n\n',
  ],
  ...[
    '[x](https://a.b/"onmouseover=1)',
    '[x](JaVaScRiPt:1)',
    '[x](data:text/html,1)',
    'https://a.b',
    '- ',
    '1. ',
    '\\',
    '&lt;',
    '`',
  ],
  ...[
    '[<b>](https://a.b/<b>)',
    "[x](https://a.b/'%22)",
    '[x](//a.b)',
    '[x](https://a.b\u0000c)',
    '</p>',
    '<%= 1 %>',
    '\u2028',
    ']',
    '(',
  ],
)

describe('whatever is typed', () => {
  it('no tag and no attribute outside the list is ever written', () => {
    const typed = fc.array(fc.oneof(hostile, fc.string({ unit: 'binary', maxLength: 12 })), { maxLength: 20 })
    fc.assert(
      fc.property(typed, (parts) => {
        expect(leftOver(written(parts.join('')))).toEqual([])
      }),
      { numRuns: 3000 },
    )
  })

  it('and the check sees what a careless writer would let through', () => {
    for (const html of [
      '<script>',
      '<p onclick="1">',
      '<a href="javascript:1">',
      '<a href="https://a.b" onclick="1">',
    ]) {
      expect(leftOver(html).length).toBeGreaterThan(0)
    }
  })

  it('and every letter of plain words is kept', () => {
    const words = fc.stringMatching(/^[a-zäöü ,.!?]{1,80}$/)
    fc.assert(
      fc.property(words, (typed) => {
        const said = written(typed).replace(/<\/?p>/g, '')
        expect(said).toBe(typed.trim())
      }),
    )
  })
})
