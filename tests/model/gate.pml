/* The gate of a repair job, written for the model checker Spin from the rules alone (29 CFR
   1910.147(d), (e), (f), 1910.333(b)(2), 1910.334(b)(2)): isolate, shut, hold, try, approach, prove
   the supply, prove the place, relieve, work, release, hand over, leave. It shares nothing with the
   program but the rules.

   Checked by assertions in every reachable state:
     1  hands go in only with the supply and the place proved and the water relieved, by who works;
     2  a cover comes off before the proof only in approach: held, tried, water shut, way to a proof;
     3  power comes on only by inspect, warn, locks off, look, in this order, and covers on;
     4  no second try at a device that opened without a reading between;
     5  a lock comes off by its owner alone; the worker's isolation is held by a lock of the worker;
     6  nothing proved is kept on any way into live; locks and covers stay as they are;
     7  a machine is left open only with lock and tag, water shut;
     8  from every state it can be made safe, worked at and left: the rescue always gets there. */

mtype = { live, isolated, held, dead, running };
mtype = { flowing, shut, relieved };

mtype power = live;
mtype water = flowing;
bool stopped, tried, place_dead, tagged, opened, asked;   /* asked: an absence not answered yet */
bool box_open, panel_open;             /* the cover on the way, and the one in front of the place */
byte release;                          /* steps of giving back: inspect, warn, locks, look */
byte readings;                         /* 0, 1: known source, 2: pairs nil, 3: known source again */

byte worker = 1;                       /* 1 and 2; a lock of each, 0 hanging, 1 hanging */
bool lock_of[3];
byte holder;                           /* who holds the isolation, 0: nobody */
bool by_hand;                          /* a plug in the hand, no lock */

/* What an onlooker counts, by energy and events alone. */
bool seen_dead, seen_place, seen_relieved;
byte seen_by;                          /* who saw it */
byte seen_step;                        /* 1 inspected, 2 warned, 3 no lock hangs, 4 looked */
bool seen_opened;
bool stop_world, worked, over;

inline forget_power() {
  tried = false; readings = 0; place_dead = false; tagged = false; stopped = false; holder = 0;
  by_hand = false;
  seen_dead = false; seen_place = false
}
inline forget_water() { water = flowing; seen_relieved = false }
inline forget_release() { release = 0; seen_step = 0 }
inline all_lost() { power = live; forget_power(); forget_water(); forget_release() }

inline was_left() {
  if
  :: by_hand -> seen_dead = false
  :: else
  fi;
  seen_place = false;
  if
  :: holder != 0 && holder == worker && !by_hand && lock_of[worker] ->
       place_dead = false; forget_release()
  :: else -> all_lost()
  fi
}

inline isolate() {
  forget_power(); forget_release(); stopped = true; power = isolated
}
inline hold() {
  lock_of[worker] = true; holder = worker; tagged = true; by_hand = false;
  if
  :: power == isolated -> power = held
  :: else
  fi
}
inline next_reading() {
  if
  :: readings == 0 ->
       if
       :: power == dead -> power = held; place_dead = false; seen_dead = false; seen_place = false
       :: else
       fi;
       readings = 1
  :: readings == 1 -> readings = 2
  :: readings == 2 -> readings = 0; power = dead; opened = false;
                      seen_dead = true; seen_by = worker; seen_opened = false
  fi
}

inline hands_in() {
  assert(power == dead && place_dead && water == relieved && !asked);                 /* 1 */
  assert(seen_dead && seen_place && seen_relieved && seen_by == worker);              /* 1 */
  assert(holder == worker && (lock_of[worker] || by_hand));                           /* 5 */
  forget_release(); seen_step = 0; worked = true
}

inline check_live() {
  assert(power != live || (!tried && !place_dead && readings == 0 && holder == 0))    /* 6 */
}

active proctype job() {
  byte other;
  do
  :: stop_world -> break
  :: !stop_world && !over -> atomic {
     other = 3 - worker;
     if
     :: power != running && !asked -> stopped = true
     :: power == running -> power = live; stopped = true
     :: stopped && !asked && power != running -> isolate()
     :: (power == isolated || power == held || power == dead) && !asked -> hold()
     :: power == isolated && !asked -> power = held; holder = worker; by_hand = true; tagged = false
     :: (power == held || power == dead) && !asked -> tried = true
     :: (power == held || power == dead) && !asked ->                /* the machine answers */
          power = live; forget_power(); forget_release()
     :: !asked -> water = shut; seen_relieved = false
     :: (power == held || power == dead) && tried && water != flowing && box_open && !asked ->
          next_reading()
     :: power == held && readings > 0 && !asked ->                   /* reads live */
          power = live; forget_power(); forget_release()
     :: power == dead && !asked -> place_dead = true; seen_place = true
     :: power == dead && water == shut && !asked -> water = relieved; seen_relieved = true
     /* approach: the cover on the way, and no other */
     :: (power == held || power == dead) && tried && water != flowing && !box_open && !asked ->
          assert((power == held || power == dead) && tried && water != flowing);      /* 2 */
          assert(holder == worker && (lock_of[worker] || by_hand));                   /* 5 */
          box_open = true; forget_release()
     :: power == dead && place_dead && water == relieved && !asked ->
          hands_in(); panel_open = !panel_open
     :: power == dead && place_dead && water == relieved && box_open && !asked ->
          hands_in(); box_open = false
     :: power == dead && place_dead && water == relieved && !asked -> hands_in()
     /* giving back */
     :: !box_open && !panel_open && !asked && release == 0 -> release = 1; seen_step = 1
     :: release == 1 && !asked -> release = 2; seen_step = (seen_step == 1 -> 2 : 0)
     :: release >= 2 && lock_of[worker] && !asked ->
          lock_of[worker] = false;
          if
          :: power != live && power != running -> power = live; forget_power(); stopped = false
          :: else
          fi;
          release = 3; seen_step = (seen_step >= 2 -> 3 : 0)
     /* the other's own lock, by the other: at once while mine holds, else in the release */
     :: lock_of[other] && holder == worker && !by_hand && lock_of[worker] && release == 0 ->
          lock_of[other] = false
     :: lock_of[other] && release >= 2 ->
          lock_of[other] = false;
          if
          :: power == isolated || power == held || power == dead -> power = live; forget_power()
          :: else
          fi
     /* the plug to its outlet */
     :: release >= 2 && by_hand && !asked -> power = live; forget_power()
     :: release >= 2 && !lock_of[1] && !lock_of[2] && (power == live || power == running) && !asked ->
          release = 4;
          seen_step = (seen_step >= 2 && !lock_of[1] && !lock_of[2] && !by_hand -> 4 : 0)
     :: release == 4 && !lock_of[1] && !lock_of[2] && power == live && !opened && !asked &&
        !box_open && !panel_open ->
          assert(seen_step == 4 && !lock_of[1] && !lock_of[2] && !by_hand);           /* 3 */
          assert(!box_open && !panel_open);                                           /* 3 */
          assert(!seen_opened);                                                       /* 4 */
          forget_power(); power = running; release = 1; seen_step = 1
     :: release >= 2 && !asked && !panel_open -> water = flowing; seen_relieved = false
     /* people */
     :: (power == held || power == dead) && !asked ->                /* hand-over, new lock first */
          lock_of[other] = true; worker = other; holder = other; by_hand = false;
          power = held; tried = false; readings = 0; place_dead = false; tagged = false;
          seen_dead = false; seen_place = false;
          if
          :: water == relieved -> water = shut
          :: else
          fi;
          seen_relieved = false; forget_release()
     :: power != held && power != dead && !asked -> worker = other; all_lost()
     :: lock_of[other] == false -> lock_of[other] = true              /* found hanging */
     /* what happens */
     :: asked = true
     :: asked -> asked = false                                       /* stayed */
     :: asked -> asked = false; was_left()
     :: asked -> asked = false; all_lost()
     :: was_left()                                                   /* sight lost */
     :: power = live; forget_power(); forget_release()               /* power found on */
     :: forget_water(); forget_release()                             /* water found on */
     :: (power == held || power == dead) && !by_hand ->              /* lock found off */
          lock_of[worker] = false; all_lost()
     :: power = live; forget_power(); forget_release(); opened = true; seen_opened = true
     :: power == dead -> power = held; place_dead = false; readings = 0;   /* the proof is too old */
          seen_dead = false; seen_place = false
     /* leave and come back another day */
     :: (power == held || power == dead) && holder == worker && !by_hand && tagged &&
        water != flowing && !asked ->
          assert(lock_of[worker] && tagged && water != flowing);                      /* 7 */
          all_lost()
     fi;
     check_live()
     }
  od
}

/* At any moment the worker may decide to make it safe, work once, and leave it safe. */
active proctype rescue() {
  stop_world = true;
  atomic {
    asked = false;
    if
    :: power == running -> power = live; stopped = true
    :: else -> stopped = true
    fi;
    if
    :: power == live -> isolate()
    :: else
    fi;
    hold();
    if
    :: water == flowing -> water = shut
    :: else
    fi;
    tried = true;
    assert(power == held || power == dead);
    box_open = true;
    if
    :: power != dead -> readings = 0; next_reading(); next_reading(); next_reading()
    :: else
    fi;
    assert(power == dead);                                                            /* 8 */
    place_dead = true; seen_place = true;
    water = relieved; seen_relieved = true;
    hands_in();
    assert(lock_of[worker] && tagged && water == relieved);
    over = true
  }
  assert(worked && over)                                                              /* 8 */
}
