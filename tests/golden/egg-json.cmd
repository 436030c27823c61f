run examples/egg-farm/job.sline --format=json
