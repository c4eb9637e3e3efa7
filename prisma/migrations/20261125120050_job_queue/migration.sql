-- The job queue: what pg-boss 10.4 makes (schema version 24, PgBoss.getConstructionPlans('tallywood_jobs')), written here so that
-- the owner of the database makes it. The application only works through it; it may not make tables of its own.

DROP SCHEMA IF EXISTS tallywood_jobs CASCADE;
CREATE SCHEMA tallywood_jobs;

CREATE TYPE tallywood_jobs.job_state AS ENUM (
  'created',
  'retry',
  'active',
  'completed',
  'cancelled',
  'failed'
);

CREATE TABLE tallywood_jobs.version (
  version int primary key,
  maintained_on timestamp with time zone,
  cron_on timestamp with time zone,
  monitored_on timestamp with time zone
);

CREATE TABLE tallywood_jobs.queue (
  name text,
  policy text,
  retry_limit int,
  retry_delay int,
  retry_backoff bool,
  expire_seconds int,
  retention_minutes int,
  dead_letter text REFERENCES tallywood_jobs.queue (name),
  partition_name text,
  created_on timestamp with time zone not null default now(),
  updated_on timestamp with time zone not null default now(),
  PRIMARY KEY (name)
);

CREATE TABLE tallywood_jobs.schedule (
  name text REFERENCES tallywood_jobs.queue ON DELETE CASCADE,
  cron text not null,
  timezone text,
  data jsonb,
  options jsonb,
  created_on timestamp with time zone not null default now(),
  updated_on timestamp with time zone not null default now(),
  PRIMARY KEY (name)
);

CREATE TABLE tallywood_jobs.subscription (
  event text not null,
  name text not null REFERENCES tallywood_jobs.queue ON DELETE CASCADE,
  created_on timestamp with time zone not null default now(),
  updated_on timestamp with time zone not null default now(),
  PRIMARY KEY(event, name)
);

CREATE TABLE tallywood_jobs.job (
  id uuid not null default gen_random_uuid(),
  name text not null,
  priority integer not null default(0),
  data jsonb,
  state tallywood_jobs.job_state not null default('created'),
  retry_limit integer not null default(2),
  retry_count integer not null default(0),
  retry_delay integer not null default(0),
  retry_backoff boolean not null default false,
  start_after timestamp with time zone not null default now(),
  started_on timestamp with time zone,
  singleton_key text,
  singleton_on timestamp without time zone,
  expire_in interval not null default interval '15 minutes',
  created_on timestamp with time zone not null default now(),
  completed_on timestamp with time zone,
  keep_until timestamp with time zone NOT NULL default now() + interval '14 days',
  output jsonb,
  dead_letter text,
  policy text
) PARTITION BY LIST (name);
ALTER TABLE tallywood_jobs.job ADD PRIMARY KEY (name, id);
CREATE TABLE tallywood_jobs.archive (LIKE tallywood_jobs.job);
ALTER TABLE tallywood_jobs.archive ADD PRIMARY KEY (name, id);
ALTER TABLE tallywood_jobs.archive ADD archived_on timestamptz NOT NULL DEFAULT now();
CREATE INDEX archive_i1 ON tallywood_jobs.archive(archived_on);

CREATE FUNCTION tallywood_jobs.create_queue(queue_name text, options json)
RETURNS VOID AS
$$
DECLARE
  table_name varchar := 'j' || encode(sha224(queue_name::bytea), 'hex');
  queue_created_on timestamptz;
BEGIN

  WITH q as (
  INSERT INTO tallywood_jobs.queue (
    name,
    policy,
    retry_limit,
    retry_delay,
    retry_backoff,
    expire_seconds,
    retention_minutes,
    dead_letter,
    partition_name
  )
  VALUES (
    queue_name,
    options->>'policy',
    (options->>'retryLimit')::int,
    (options->>'retryDelay')::int,
    (options->>'retryBackoff')::bool,
    (options->>'expireInSeconds')::int,
    (options->>'retentionMinutes')::int,
    options->>'deadLetter',
    table_name
  )
  ON CONFLICT DO NOTHING
  RETURNING created_on
  )
  SELECT created_on into queue_created_on from q;

  IF queue_created_on IS NULL THEN
    RETURN;
  END IF;

  EXECUTE format('CREATE TABLE tallywood_jobs.%I (LIKE tallywood_jobs.job INCLUDING DEFAULTS)', table_name);

  EXECUTE format('ALTER TABLE tallywood_jobs.%1$I ADD PRIMARY KEY (name, id)', table_name);
  EXECUTE format('ALTER TABLE tallywood_jobs.%1$I ADD CONSTRAINT q_fkey FOREIGN KEY (name) REFERENCES tallywood_jobs.queue (name) ON DELETE RESTRICT DEFERRABLE INITIALLY DEFERRED', table_name);
  EXECUTE format('ALTER TABLE tallywood_jobs.%1$I ADD CONSTRAINT dlq_fkey FOREIGN KEY (dead_letter) REFERENCES tallywood_jobs.queue (name) ON DELETE RESTRICT DEFERRABLE INITIALLY DEFERRED', table_name);
  EXECUTE format('CREATE UNIQUE INDEX %1$s_i1 ON tallywood_jobs.%1$I (name, COALESCE(singleton_key, '''')) WHERE state = ''created'' AND policy = ''short''', table_name);
  EXECUTE format('CREATE UNIQUE INDEX %1$s_i2 ON tallywood_jobs.%1$I (name, COALESCE(singleton_key, '''')) WHERE state = ''active'' AND policy = ''singleton''', table_name);
  EXECUTE format('CREATE UNIQUE INDEX %1$s_i3 ON tallywood_jobs.%1$I (name, state, COALESCE(singleton_key, '''')) WHERE state <= ''active'' AND policy = ''stately''', table_name);
  EXECUTE format('CREATE UNIQUE INDEX %1$s_i4 ON tallywood_jobs.%1$I (name, singleton_on, COALESCE(singleton_key, '''')) WHERE state <> ''cancelled'' AND singleton_on IS NOT NULL', table_name);
  EXECUTE format('CREATE INDEX %1$s_i5 ON tallywood_jobs.%1$I (name, start_after) INCLUDE (priority, created_on, id) WHERE state < ''active''', table_name);

  EXECUTE format('ALTER TABLE tallywood_jobs.%I ADD CONSTRAINT cjc CHECK (name=%L)', table_name, queue_name);
  EXECUTE format('ALTER TABLE tallywood_jobs.job ATTACH PARTITION tallywood_jobs.%I FOR VALUES IN (%L)', table_name, queue_name);
END;
$$
LANGUAGE plpgsql;;

CREATE FUNCTION tallywood_jobs.delete_queue(queue_name text)
RETURNS VOID AS
$$
DECLARE
  table_name varchar;
BEGIN
  WITH deleted as (
    DELETE FROM tallywood_jobs.queue
    WHERE name = queue_name
    RETURNING partition_name
  )
  SELECT partition_name from deleted INTO table_name;

  EXECUTE format('DROP TABLE IF EXISTS tallywood_jobs.%I', table_name);
END;
$$
LANGUAGE plpgsql;;
INSERT INTO tallywood_jobs.version(version) VALUES ('24');

-- ---- our queues ----------------------------------------------------------------------------

-- pg-boss keeps its clock in the first; the others are in lib/platform/jobs/queues.ts.
SELECT tallywood_jobs.create_queue('__pgboss__send-it', '{"policy": "standard"}');
SELECT tallywood_jobs.create_queue('hourly-round', '{"policy": "short", "retryLimit": 3, "retryDelay": 60, "retryBackoff": true, "expireInSeconds": 600, "retentionMinutes": 1440}');
SELECT tallywood_jobs.create_queue('remind-group', '{"policy": "short", "retryLimit": 5, "retryDelay": 60, "retryBackoff": true, "expireInSeconds": 900, "retentionMinutes": 1440}');
SELECT tallywood_jobs.create_queue('week-mail-of-group', '{"policy": "short", "retryLimit": 5, "retryDelay": 60, "retryBackoff": true, "expireInSeconds": 900, "retentionMinutes": 1440}');

-- ---- what the application may do -----------------------------------------------------------

GRANT USAGE ON SCHEMA tallywood_jobs TO tallywood_app;
GRANT SELECT ON ALL TABLES IN SCHEMA tallywood_jobs TO tallywood_app;
GRANT INSERT, UPDATE, DELETE ON tallywood_jobs.job, tallywood_jobs.archive, tallywood_jobs.schedule TO tallywood_app;
GRANT UPDATE (maintained_on, cron_on, monitored_on) ON tallywood_jobs.version TO tallywood_app;
REVOKE ALL ON FUNCTION tallywood_jobs.create_queue, tallywood_jobs.delete_queue FROM PUBLIC;
