check examples/egg-farm/job.sline --on 2026-11-20
