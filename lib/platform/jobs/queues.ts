/** What a job of each queue is given. The queues are made in prisma/migrations/20261125120050_job_queue. */
export interface JobData {
  /** Hands out the work of the hour. */
  readonly 'hourly-round': Record<string, never>
  readonly 'remind-group': { readonly groupId: string }
  readonly 'week-mail-of-group': { readonly groupId: string }
}

export type JobName = keyof JobData

/** What does the work of each queue. What it throws is tried again later, with a growing wait. */
export type JobHandlers = { readonly [Name in JobName]: (data: JobData[Name]) => Promise<void> }

/** Minute 7 of every hour: when the hourly round begins. */
export const hourlyCron = '7 * * * *'
