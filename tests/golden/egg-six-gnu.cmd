run examples/egg-farm/job.sline --alternate "six in series" --format=gnu
