import { describe, expect, it } from 'vitest'
import { methodMark, methodMarks } from '../../src/drawing/method-marks.ts'
import { headOf } from '../../src/web/head.ts'

const open = (address: string) => {
  const head = headOf('quern-hill', address)
  return {
    part: head.parts.filter((one) => one.current).map((one) => one.key),
    room: head.rooms.filter((one) => one.current).map((one) => one.key),
  }
}

describe('the head of a group’s pages', () => {
  it.each([
    ['/g/quern-hill', 'home', []],
    ['/g/quern-hill/weeks/2027-W05?x=1', 'week', []],
    ['/g/quern-hill/seasons', 'season', ['seasons']],
    ['/g/quern-hill/seasons/a', 'season', ['plantings']],
    ['/g/quern-hill/seasons/a/question', 'season', ['question']],
    ['/g/quern-hill/seasons/a/plan/carried', 'season', ['plan']],
    ['/g/quern-hill/crops', 'season', ['crops']],
    ['/g/quern-hill/soil/balance', 'ground', ['soil']],
    ['/g/quern-hill/gardens/b', 'ground', ['gardens']],
    ['/g/quern-hill/decide', 'decide', ['seasonEnd']],
    ['/g/quern-hill/decide/restart?bed=1', 'decide', ['restart']],
    ['/g/quern-hill/decisions', 'decide', ['decisions']],
    ['/g/quern-hill/compare/rows', 'compare', []],
  ])('%s lies in %s', (address, part, room) => {
    expect(open(address)).toEqual({ part: [part], room })
  })

  it('a page under the group’s name is in no part of the year', () => {
    expect(open('/g/quern-hill/settings')).toEqual({ part: [], room: [] })
    expect(headOf('quern-hill', '/g/quern-hill/settings').group.find((one) => one.current)?.key).toBe('settings')
  })
})

it('each method has a mark of its own, around the same middle, and the seventh has the first again', () => {
  const at = { x: 8, y: 8, reach: 5 }
  const marks = Array.from({ length: methodMarks }, (_, place) => methodMark(place, at))
  expect(new Set(marks).size).toBe(methodMarks)
  expect(methodMark(methodMarks, at)).toBe(marks[0])
  for (const mark of marks.slice(1)) {
    const numbers = [...mark.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map((found) => [Number(found[1]), Number(found[2])])
    for (const [x = 0, y = 0] of numbers) expect(Math.hypot(x - 8, y - 8)).toBeLessThanOrEqual(8)
  }
})
