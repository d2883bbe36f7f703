-- What Compare rests on, summed by the database alone: grams by planting and week, minutes by place, week, task and
-- person. It is the measure of how much the reading and summing of a record costs beyond what must be done.
select planting_id, iso_week, sum(marketable_g) as good, sum(unmarketable_g) as bad, count(*) as weighings
from harvests where group_id = $1 and removed_at is null and counts = 1
group by planting_id, iso_week;
select season_id, garden_id, bed_id, planting_id, iso_week, task, who, phase, sum(person_minutes) as minutes, count(*) as entries
from labour_entries where group_id = $1 and removed_at is null
group by season_id, garden_id, bed_id, planting_id, iso_week, task, who, phase;
