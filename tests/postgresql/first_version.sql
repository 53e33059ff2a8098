INSERT INTO project (version, name, address, timezone, calendar, starts_on, phone, office_hours, changed)
    VALUES (1, 'Okafor house', '14 Tamarack Lane', 'America/Chicago', '{}', '2026-11-16', '', '', 7);
INSERT INTO person (version, project_id, name, role, phone, email, may_approve)
    VALUES (1, 1, 'Maren Okafor', 'homeowner', '', '', TRUE);
INSERT INTO decision (version, project_id, number, kind, lead_days, approvers, revision, state)
    VALUES (1, 1, 1, 'deck', 1, 'any', 1, 'approved');
INSERT INTO approval (decision_id, revision, option, person_id, name, at)
    VALUES (1, 1, 'a', 1, 'Maren Okafor', 1764000000);
INSERT INTO phase (version, project_id, name, crew, position, work_low, work_likely, work_high, state, note, takes)
    VALUES (1, 1, 'Drill', 'Stone crew', 0, 60, 120, 180, 'waiting', '', '[]');
INSERT INTO record_entry (project_id, sequence, at, kind, canonical, hash)
    VALUES (1, 1, '2026-12-02T13:30:00Z', 'asked', '{}', 'aa');
