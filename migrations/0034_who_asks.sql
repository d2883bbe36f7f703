-- Who asks, and what they are in the group of an address: one question before every page. As a function its plan is kept by
-- each connection, and no transaction stands around it. The service alone may call it: neither of its roles, and nobody else.
CREATE FUNCTION public.who_asks(of_token text, at_slug text, idle_days integer)
RETURNS TABLE (
  person_id uuid, person_name text, email text, factor_shown boolean, unwritten boolean, member_role text,
  group_id uuid, slug text, group_name text, currency text, time_zone text, locale text, weight_unit text, area_unit text,
  labour_rate_minor_per_hour bigint, asks_factor integer, changes bigint
)
LANGUAGE plpgsql STABLE SECURITY DEFINER SET search_path = public, pg_temp AS $$
#variable_conflict use_column
BEGIN
  RETURN QUERY
    SELECT p.id, p.name, p.email, s.factor_shown_at IS NOT NULL,
      -- Written down again after five minutes, or where a clock that was ahead wrote it.
      s.last_used_at < now() - interval '5 minutes' OR s.last_used_at > now() + interval '1 minute',
      m.role, g.id, g.slug, g.name, g.currency, g.time_zone, g.locale, g.weight_unit, g.area_unit,
      g.labour_rate_minor_per_hour, g.asks_factor, coalesce(c.changes, 0)
    FROM sessions s
    JOIN people p ON p.id = s.person_id
    LEFT JOIN groups g ON g.slug = at_slug
    LEFT JOIN members m ON m.group_id = g.id AND m.person_id = p.id
    LEFT JOIN group_counters c ON c.group_id = g.id
    WHERE s.token_hash = of_token AND s.expires_at > now()
      AND s.last_used_at > now() - make_interval(days => idle_days);
END $$;
--> statement-breakpoint
REVOKE ALL ON FUNCTION public.who_asks(text, text, integer) FROM PUBLIC;
