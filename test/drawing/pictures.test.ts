import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { figureOf, svgOf } from './rendering.ts'
import { samplePictures } from './samples.ts'
import { expectSound } from './sound.ts'

const pictures = samplePictures()
const named = pictures.map((picture) => [picture.id, picture] as const)
const textsOf = (html: string) => [...html.matchAll(/<t[hd](?:\s[^>]*)?>([^<]*)</g)].map((found) => found[1])

describe('every picture', () => {
  it('there are nine to look at, each kept and none kept that is no more drawn', () => {
    expect(readdirSync('test/drawing/kept').sort()).toEqual(pictures.map((picture) => `${picture.id}.svg`).sort())
    expect(pictures).toHaveLength(9)
  })

  it.each(named)('%s is drawn as it was kept', async (id, picture) => {
    await expect(`${svgOf(picture)}\n`).toMatchFileSnapshot(`kept/${id}.svg`)
  })

  it.each(named)('%s is sound', (_, picture) => expectSound(picture.drawing))

  it.each(named)('%s has a title, a description and its table', (id, picture) => {
    const html = figureOf(picture)
    expect(html).toContain(`role="img" aria-labelledby="${id}-title ${id}-desc"`)
    expect(html).toContain(`<title id="${id}-title">${picture.title}</title>`)
    expect(html).toMatch(new RegExp(`<desc id="${id}-desc">[^<]{40,}</desc>`))
    expect(html).toContain(`<table class="ledger" id="${id}-table">`)
    expect(textsOf(html)).toEqual([...picture.table.head, ...picture.table.rows.flat()])
    expect(picture.table.rows.every((row) => row.length === picture.table.head.length)).toBe(true)
  })

  it.each(named)('%s carries no style, no script and no slip', (_, picture) => {
    const html = figureOf(picture)
    expect(html).not.toMatch(/\sstyle=|<style|<script|\son[a-z]+=/)
    expect(html).not.toMatch(/undefined|NaN|Infinity|\[object/)
  })

  it('points at a table that the page has instead of giving its own', () => {
    const [first] = pictures
    if (!first) throw new Error('no picture')
    const html = figureOf({ ...first, tableId: 'methods', tableSays: 'Drawn from the table on this page.' })
    expect(html).toContain('<a href="#methods">Drawn from the table on this page.</a>')
    expect(html).not.toContain('<table')
  })

  it('writes what people typed as text', () => {
    const [first] = pictures
    if (!first) throw new Error('no picture')
    const title = 'Beds <b>"A" & B</b>'
    expect(figureOf({ ...first, title })).not.toContain('<b>')
  })
})

describe('the styles', () => {
  const css = readFileSync('views/styles/30-pictures.css', 'utf8')

  it('know every class that a drawing may carry', () => {
    const used = new Set(
      pictures.flatMap((picture) => [...svgOf(picture).matchAll(/class="([^"]+)"/g)].map((m) => m[1])),
    )
    const unknown = [...used].flatMap((all) => all?.split(' ') ?? []).filter((name) => !css.includes(name))
    expect(unknown.filter((name) => !['dash-1', 'mark-', 'fill-2', 'fill-4'].includes(name))).toEqual([])
  })

  it('take every colour from the custom properties', () => {
    const colours = [...css.matchAll(/(?:fill|stroke):\s*([^;]+);/g)].map((found) => found[1])
    expect(colours.filter((colour) => colour !== 'none' && !/^var\(--[a-z]+\)$/.test(colour ?? ''))).toEqual([])
    expect(colours.length).toBeGreaterThan(10)
  })
})
