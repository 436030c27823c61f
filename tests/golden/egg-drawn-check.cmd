check examples/egg-farm/job.sline --set footing.deep.hole_diameter=14in --set footing.deep.hole_depth=36in --set footing.deep.isolated_posts=false
