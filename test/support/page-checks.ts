import { expect } from 'vitest'

/** What holds of every page that any test opens. */
export function checkPage(html: string, address: string): void {
  const ids = [...html.matchAll(/\sid="([^"]*)"/g)].map((found) => found[1] ?? '')
  const repeated = ids.filter((id, i) => ids.indexOf(id) !== i)
  const labelled = [...html.matchAll(/<label for="([^"]*)"/g)].map((found) => found[1] ?? '')
  const within = [...html.matchAll(/\shref="#([^"]*)"/g)].map((found) => found[1] ?? '')
  const text = html.replace(/<[^>]*>/g, ' ')
  expect({
    address,
    headings: html.match(/<h1[\s>]/g)?.length ?? 0,
    repeated,
    labelsOfNothing: labelled.filter((id) => !ids.includes(id)),
    linksToNothing: within.filter((id) => !ids.includes(id)),
    slips: text.match(/\bundefined\b|\bNaN\b|\[object|\bInfinity\b/g) ?? [],
    inline: html.match(/\sstyle="|<style|\son[a-z]+="|<script>/g) ?? [],
  }).toEqual({ address, headings: 1, repeated: [], labelsOfNothing: [], linksToNothing: [], slips: [], inline: [] })
}

/** The cells of each row that begins with a heading or cell of these words. */
export const rowsOf = (html: string, start: string): string[][] =>
  (html.match(/<tr[\s>][\s\S]*?<\/tr>/g) ?? [])
    .map((row) => [...row.matchAll(/<t[hd][^>]*>([\s\S]*?)<\/t[hd]>/g)].map((cell) => plain(cell[1] ?? '')))
    .filter((cells) => cells[0] === start)

/** The cells of the first such row. */
export const rowOf = (html: string, start: string): string[] => rowsOf(html, start)[0] ?? []

export const plain = (html: string) =>
  html
    .replace(/<[^>]*>/g, ' ')
    .replace(/&amp;/g, '&')
    .replace(/&#39;/g, "'")
    .replace(/\s+/g, ' ')
    .trim()
