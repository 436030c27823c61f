sheet examples/egg-farm/job.sline trench --on 2026-11-20
