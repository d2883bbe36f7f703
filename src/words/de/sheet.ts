/** Das Blatt der Woche auf Papier. */
export const sheet = {
  title: (week: string) => `Blatt für Woche ${week}`,
  link: 'Das Blatt zum Drucken und zum Abtippen',
  toWeek: 'Zur Woche',
  toTyping: 'Ein ausgefülltes Blatt tippen',
  printHint: 'Drucke diese Seite: sie ist für A4 gemacht. Zeilen und Gärten stehen wie auf dem Bildschirm.',
  filledIn: 'Ausgefüllt von, und der Tag',
  weightsHint: (unit: string) =>
    `Netto, in ${unit}. 2,5 / 0,4 beinig: 2,5 gut, 0,4 nicht, und warum. Ein anderer Tag davor: Di 1,2. ` +
    'Leer, wo nichts geerntet wurde.',
  labels: 'Kisten mit Etikett',
  labelsHint:
    'In der Folge der Buchstaben. Für welche Pflanzung ein Etikett steht, zeigt sich, wenn die Woche ' +
    'abgeschlossen ist.',
  losses: 'Verluste',
  lossesHint: 'Was von dem verloren ging, was noch stand, in Prozent: 100, wo es alles war.',
  columns: {
    planting: 'Pflanzung',
    day: 'Tag',
    share: 'Verlorener Teil',
    cause: 'Ursache',
    nextDoor: 'Nebenan auch verloren',
  },
  cellSentBefore:
    'Aus diesem Feld wurde vorher etwas anderes gespeichert. Berichtige es auf der Seite der Woche, und tippe ' +
    'hier, was es damals sagte.',
}
