sheet examples/egg-farm/job.sline --set job.stage=quote
