/* SPDX-License-Identifier: MIT
 * The frame of each station of a rack, seen from the side: rafter, posts, braces, and what wind, snow and weight do to
 * them.  SI: m, N, Pa, rad.  Plane frames by direct stiffness (frame.h), first order; what leaning adds on top of
 * that is counted in moments, in braces and in how braced frames press and lift their outer posts: as the posts bend,
 * where they are fixed at grade, and where footings turn as if nothing kept them from it, if the frame stands then by
 * its braces or by heads that hold the rafter: each post pressed by the most of all, held by the ground at grade, and
 * its head out of plumb by as far as that is said to give way.  What it adds as the ground gives way is
 * told apart, if it is said how far it does at most (leaning.h, or of a post by itself): each post that its foot holds
 * leans so far, whatever is taken of the feet, and bears what presses it, and what presses posts that no foot holds,
 * out of plumb; its own head's whole way is the arm, and it grows as the posts bend.
 *
 * The rafter bears on the posts' heads by pins, but where a head is said to hold it; it lies `stack` below the modules,
 * square to them.  What is not said of the feet is enveloped: posts fixed at grade, footings that turn about a depth in
 * the ground, and the shortest line of posts alone.  Feet that are said to be hinged are so in all of these.  Each
 * line's feet are alike: that the longer line alone might hold the frame is no limit here.
 *
 * A rafter that was turned about the heads of one line lies above those of the others: there a leg stands on the head,
 * with a pin at both ends.  Such a head is held by its own post, or by a brace in its upper quarter: without that the
 * shortest line alone is no limit.  What legs weigh is the frame's.
 *
 * Wind pressures are at strength level, square to the modules, + presses down.  Stations share no load but by what
 * `tributary` says.  The longest of them is judged; forces in the plane of the modules along the row are not here. */
#ifndef STRINGLINE_SIDE_FRAMES_H
#define STRINGLINE_SIDE_FRAMES_H

#include <stdbool.h>
#include "stringline/combine.h"

enum sl_frame_limit { SL_FIXED_AT_GRADE, SL_TURNING, SL_SHORTEST_ALONE };
extern const char *const sl_frame_limits[];
enum sl_frame_part { SL_PART_POST, SL_PART_RAFTER, SL_PART_BRACE, SL_PART_LEG };
extern const char *const sl_frame_parts[];

struct sl_side_station {
  double tributary;                     /* length of row that its rafter carries, > 0 */
  double snow;                          /* whose snow it carries, > 0; NAN: as much */
};
/* The posts of a station from the lower edge up; stations and lines from 1, in order. */
struct sl_side_post {
  double station, line;
  double at;                            /* where the rafter bears on it, or on its leg: fraction of the slope from the
                                         * lower edge, 0 to 1, rising */
  double height;                        /* head above its own ground, > 0 */
  double depth;                         /* of the footing below that, gravel not counted, >= 0 */
  double hinged;                        /* 1: its foot is said to turn freely; else 0 */
  double leans;                         /* so far its head moves as the ground gives way, where its foot is held, >= 0;
                                         * NAN: by ground_motion */
  double head;                          /* 1: it holds the rafter from turning on it; 0 or NAN: a pin */
  double e, area, inertia;              /* its own, all three > 0, where its line is unlike; 0 or NAN: the rack's */
  double leg_rise, leg_run;             /* where the rafter bears above its head, > 0, and behind it, < 0: before; both
                                         * 0 or NAN: on the head */
};
struct sl_side_brace {
  double station, foot_line, head_line; /* two lines of the station */
  double low, high;                     /* bolt above the ground of the foot's post; below the head of the other */
};
struct sl_side_wind { double low, high; };      /* net pressure on the lower and upper half of the slope, Pa */

struct sl_side_frames_in {
  double tilt;                          /* 0 to less than 90 deg */
  double slope_length;                  /* of the modules, > 0 */
  double stack;                         /* from the rafters' line to the modules, >= 0 */
  double dead_modules, dead_frame;      /* weight for each area of slope: modules; rails, rafters and all else; >= 0 */
  double frame_most;                    /* the frame's where weight presses, >= dead_frame; NAN: as that */
  double snow;                          /* for each area of plan, >= 0 */
  double least;                         /* least wind on what is seen from the front, Pa, >= 0 */
  double ground_motion;                 /* most that feet that are held move at grade, >= 0; 0 or NAN: not counted */
  double post_e, post_area, post_inertia;         /* of one post, Pa, m2, m4, > 0 */
  double rafter_e, rafter_area, rafter_inertia;   /* NAN: a stiff one */
  double brace_e, brace_area;           /* of one brace, > 0; NAN where there is none */
  double leg_e, leg_area;               /* of one leg, likewise */
  const struct sl_side_station *stations; size_t nstations;   /* 1 to 1000 */
  const struct sl_side_post *posts; size_t nposts;            /* of each station 1 to 10 */
  const struct sl_side_brace *braces; size_t nbraces;         /* of each station to 10 */
  const struct sl_side_wind *winds; size_t nwinds;            /* cases, 0 to 100 */
  bool tell_heads;                      /* whether what each line's heads carry is told */
  bool strength;                        /* members are told by strength combinations, not by allowable ones */
  char edition[SL_EDITION_NAME];
};
/* What each post's foot carries.  Cases from 1, as given; one more than there are: the least wind up the slope, two
 * more: down it; 0: no wind.  Forces of wind alone are at strength level, what is `allowable` of the combinations. */
struct sl_side_foot {
  double station, line;
  double up, up_case, down, down_case, side, side_case;       /* of wind alone, each >= 0 */
  double dead;                          /* least of the limits; less than 0: the frame's weight lifts it */
  double weight, snow;                  /* most that either presses it, each alone, the weight as where it presses */
  double net_up, net_up_case;           /* allowable, 0 where nothing lifts */
  double net_up_dead;                   /* the same limit's weight on it */
  double pressed, pressed_case;         /* allowable */
  double push, push_moment, push_case;  /* allowable: at grade, largest moment of those with the largest push */
  double moment, moment_push;           /* allowable: largest moment at grade, and the push with it */
  double strength_up, strength_down;    /* by strength combinations */
  double half_built_up;                 /* allowable: most that lifts while only half of the modules are up */
  double leans;                         /* how far its head moves sideways as the ground gives way */
  double leaning_moment;                /* allowable: most that this adds at grade; no other moment has it */
  int up_limit, net_up_limit, pressed_limit, push_limit;      /* enum sl_frame_limit */
  char net_up_combination[SL_COMBINATION_NAME], pressed_combination[SL_COMBINATION_NAME];
  char push_combination[SL_COMBINATION_NAME];
  char strength_up_combination[SL_COMBINATION_NAME], strength_down_combination[SL_COMBINATION_NAME];
};
/* Where a kind of member is strained most, by allowable combinations, or by those of strength: for posts of each line,
 * rafters, braces, legs, and for each duration, the largest moment, compression and tension, each with what goes with
 * it. */
struct sl_side_strain {
  double line;                          /* of posts; 0 of others */
  double station;
  double moment, axial, shear;          /* compression +; leaning as the posts bend included */
  double leaning;                       /* of posts: what is added as the ground gives way, in no other moment */
  double wind_case;
  int part, duration, limit;            /* enum sl_frame_part, sl_lasting (of the leading load by strength),
                                         * sl_frame_limit */
  char combination[SL_COMBINATION_NAME];
};
/* What passes between rafter and posts at the heads of a line, by allowable combinations: for each duration, the most
 * that lifts, that presses and that pushes sideways, the most of lift and side force together, and of whatever stands
 * upright and side force together; each with what goes with it.  What posts weigh is not in it.  A brace that is bolted
 * to the very head counts as part of the post. */
enum sl_side_head_most { SL_HEAD_LIFTED, SL_HEAD_PRESSED, SL_HEAD_PUSHED, SL_HEAD_TORN, SL_HEAD_CARRIED };
extern const char *const sl_side_head_mosts[];
struct sl_side_head {
  double line, station;
  double lift, side;                    /* on the post; lift less than 0: it presses; side >= 0 */
  double shear;                         /* of the rafter beside it, the larger of both sides, >= 0 */
  double wind_case;
  int most, duration, limit;            /* enum sl_side_head_most, sl_lasting, sl_frame_limit */
  char combination[SL_COMBINATION_NAME];
};
struct sl_side_frames_out {
  double leaning;                       /* most by which leaning under load enlarges moments, >= 1; they have it */
  double drift;                         /* most that a head moves sideways, wind alone at strength level, m */
  double sways;                         /* what leaning would make of moments with feet that nothing keeps from turning,
                                         * the most of all stations; NAN: not each of these stands then */
  const struct sl_side_foot *feet; size_t nfeet;
  const struct sl_side_strain *strains; size_t nstrains;
  const struct sl_side_head *heads; size_t nheads;            /* none unless they are to be told */
};
size_t sl_side_frames_need(const struct sl_side_frames_in *in);
enum sl_status sl_side_frames(const struct sl_side_frames_in *in, struct sl_side_frames_out *out,
                              struct sl_space space, struct sl_sheet *sh);

#endif
