explain examples/egg-farm/job.sline J1
