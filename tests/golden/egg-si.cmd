run examples/egg-farm/job.sline --set job.units=SI
