// Writes what is shipped with the service and under which licence: every package that is not for development alone, from
// the lock file, and the text of each licence that comes with one, once.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'

const to = 'views/licences.txt'

/** "name version: licence" of each package that is shipped, on whatever system. */
export function shipped(lock) {
  const own = Object.entries(lock.packages).filter(([at, one]) => at !== '' && !one.dev && !one.devOptional)
  const lines = own.map(([at, one]) => {
    const name = at.slice(at.lastIndexOf('node_modules/') + 'node_modules/'.length)
    return `${name} ${one.version}: ${one.license ?? 'see its text'}`
  })
  return [...new Set(lines)].sort()
}

/** The licence texts that lie beside these packages, each with those it is of. */
function textsOf(lock) {
  const texts = new Map()
  for (const at of Object.keys(lock.packages).filter((one) => one !== '')) {
    if (lock.packages[at].dev || lock.packages[at].devOptional) continue
    const files = filesIn(at).filter((name) => /^(licen[cs]e|copying|notice)/i.test(name))
    for (const file of files) {
      const text = readFileSync(`${at}/${file}`, 'utf8').replaceAll('\r', '').trim()
      texts.set(text, [...(texts.get(text) ?? []), at.slice('node_modules/'.length)])
    }
  }
  return [...texts].map(([text, names]) => `${names.sort().join(', ')}\n\n${text}`).sort()
}

/** Binaries of other systems are not installed here; their licence stands in the list. */
function filesIn(folder) {
  try {
    return readdirSync(folder)
  } catch {
    return []
  }
}

const head = `What Evenground is shipped with, beside its own code (MIT, see LICENSE). Made by "npm run licences" from package-lock.json.

libvips and the libraries that it is built with (in the packages @img/sharp-libvips-*) are under LGPL-3.0-or-later: they are
linked as a shared library, which may be replaced by another build of it; their sources are named in the packages'
versions.json and at https://github.com/lovell/sharp-libvips. The faces in views/faces are under the SIL Open Font License 1.1,
whose text lies beside them.
`
const line = `\n${'-'.repeat(80)}\n`

if (process.argv[1]?.endsWith('licences.mjs')) {
  const lock = JSON.parse(readFileSync('package-lock.json', 'utf8'))
  writeFileSync(to, `${head}\n${shipped(lock).join('\n')}\n${line}\n${textsOf(lock).join(`\n${line}\n`)}\n`)
}
