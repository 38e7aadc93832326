-- How the dates of a list are written, where nothing nearer says so: the country (its calendar, first day of the year,
-- order of day and month), and the first day of the year where that is another.
ALTER TABLE series ADD COLUMN country TEXT;
ALTER TABLE series ADD COLUMN year_begins TEXT;
