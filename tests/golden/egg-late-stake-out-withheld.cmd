sheet examples/egg-farm/job.sline stake-out --on 2026-11-20
