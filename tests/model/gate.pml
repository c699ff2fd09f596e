/* The gate of a repair job, written for the model checker Spin from the rules alone: isolate, lock,
   shut, relieve, prove, work, release. It shares nothing with the program but the rules.

   Checked by assertions in every reachable state:
     1  hands go in only with power proved dead and water shut and relieved;
     2  only with five good readings, and a relief, made after power and water were last on;
     3  one touch confirms nothing: a step is confirmed by a hold or by two presses;
     4  a step that is accepted names a proof that exists;
     5  from every state the job can be made safe and ended: the rescue below always gets there,
        and no other end state exists. */

mtype = { live, isolated, dead, running };
mtype = { flowing, shut, relieved, filling };

mtype power = live;
mtype water = flowing;
bool stopped, tried, lock_on, proof_old, water_old;
byte readings;              /* good ones in a row in this sequence */
bool inspected, panels, clear;
bool tagged, over, safe_once;

/* What an onlooker counts, reset by energy alone. */
byte good_since_on;
bool relieved_since_on;
byte proof, proof_count;    /* number of the proof that stands, 0: none */

byte touches;               /* deliberate acts since the last confirmation */
bool stop_world;            /* nothing but the rescue goes on */

inline forget_power() {
  stopped = false; tried = false; readings = 0; proof = 0; proof_old = false; tagged = false
}
inline forget_water() { water = flowing; water_old = false }
inline forget_release() { inspected = false; panels = false; clear = false }

inline lose_sight() {
  if
  :: lock_on && (power == isolated || power == dead) ->
       power = isolated; tried = false; readings = 0; proof = 0; proof_old = false
  :: else -> power = live; forget_power()
  fi;
  forget_water(); forget_release()
}

inline isolate() {
  power = isolated; lock_on = true; tried = false; readings = 0; proof = 0; proof_old = false;
  tagged = false; forget_release()
}

inline read_next(value_good) {
  if
  :: value_good -> readings++; good_since_on = (readings == 1 -> 1 : good_since_on + 1)
  :: else -> readings = 0; good_since_on = 0
  fi;
  if
  :: readings == 5 ->
       power = dead; readings = 0; proof_count = (proof_count % 3) + 1; proof = proof_count
  :: else
  fi
}

inline hands_in() {
  assert(power == dead && water == relieved && !proof_old && !water_old);   /* 1 */
  assert(good_since_on == 5 && relieved_since_on);               /* 2 */
  assert(touches >= 2);                                          /* 3 */
  assert(proof != 0);                                            /* 4 */
  forget_release(); touches = 0
}

active proctype job() {
  bool good;
  do
  :: stop_world -> break
  :: !stop_world && !over -> atomic {
     if
     :: stopped = true
     :: stopped -> isolate()
     :: (power == isolated || power == dead) -> tried = true
     :: (power == isolated || power == dead) ->                  /* the machine answers */
          power = live; forget_power(); forget_release(); good_since_on = 0
     :: (power == isolated || power == dead) && tried ->         /* the next of the five */
          if
          :: power == dead -> power = isolated; proof = 0; proof_old = false; readings = 0
          :: else
          fi;
          if
          :: good = true
          :: good = false
          fi;
          read_next(good)
     :: (power == isolated || power == dead) && tried && readings > 0 && readings < 4 ->
          power = live; forget_power(); forget_release(); good_since_on = 0    /* reads live */
     :: water = shut; water_old = false; relieved_since_on = false
     :: (water == shut || water == relieved) ->
          water = relieved; water_old = false; relieved_since_on = true
     :: power == dead && water == relieved && !proof_old && !water_old && touches >= 2 ->
          hands_in()
     :: touches < 2 -> touches++
     :: touches = 0                                              /* slid off, cancelled */
     :: inspected = true
     :: panels = true
     :: clear = true
     :: lock_on && inspected && clear ->
          lock_on = false;
          if
          :: power == isolated || power == dead -> power = live; forget_power()
          :: else
          fi
     :: !lock_on && inspected && panels && clear && power != running ->
          forget_power(); power = running; good_since_on = 0
     :: inspected && panels && clear && water != filling ->
          forget_water(); water = filling; relieved_since_on = false
     :: power == isolated || power == dead -> tagged = true
     /* what happens to people */
     :: power = live; forget_power(); forget_release(); good_since_on = 0      /* found on */
     :: forget_water(); forget_release(); relieved_since_on = false            /* found on */
     :: true -> lose_sight()                                             /* left, paused, clock in doubt */
     :: power == dead -> proof_old = true
     :: water == relieved -> water_old = true
     fi }
  od
}

/* At any moment the worker may decide to make it safe, work once, and leave it safe. */
active proctype rescue() {
  stop_world = true;
  atomic {
    if
    :: power != dead || proof_old ->
         if
         :: power == live || power == running -> stopped = true; isolate()
         :: else
         fi;
         tried = true; readings = 0; proof = 0; proof_old = false; power = isolated;
         read_next(true); read_next(true); read_next(true); read_next(true); read_next(true)
    :: else
    fi;
    if
    :: water != relieved || water_old ->
         water = shut; water = relieved; water_old = false; relieved_since_on = true
    :: else
    fi;
    touches = 2;
    hands_in();
    safe_once = true;
    tagged = true;
    assert((power == isolated || power == dead) && water == relieved && tagged);
    over = true
  }
  assert(safe_once && over)                                      /* 5 */
}
