/** What a shared report needs of the words for seasons. */
export const seasons = { columns: { season: 'Saison', method: 'Anbauweise' } }
