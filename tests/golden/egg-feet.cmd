run examples/egg-farm/job.sline --set "job.lengths=feet and inches"
