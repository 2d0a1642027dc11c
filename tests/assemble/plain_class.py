"""A class as plain as classes get, with every set marked, for what the shipped weights must get right."""

from __future__ import annotations

PLAIN = """
good morning everybody it's wren here in the boathouse thank you for coming | today is a short one for the whole body
you need a pair of dumbbells and a mat | i have twelve pounds in each hand we do two supersets two rounds of each and
everything is ten reps unless i tell you | if anything hurts you stop and you put the weight down okay let's get warm _2
march on the spot knees up swing your arms [ and go big happy arms _20 keep going breathe _15 ] good and stop there _4
now arm circles nice big ones [ and round we go _20 other way round _15 ] lovely shake it out okay that's us warm _10
first superset pick up your dumbbells we start with goblet squats so hold one dumbbell at your chest both hands on it
ten of these ready _1 [ and down chest up _10 push the floor away _8 halfway _10 two more _3 last one ] and rest _8
pick up the other one bent over rows hinge at the hips flat back twelve pounds in each hand ten reps ready _1
[ and pull squeeze the shoulder blades _10 neck long _8 halfway there _8 two more _3 last one ] and put them down _40
round two back to the goblet squats same weight ten reps here we go _1 [ and down _10 keep breathing _10 halfway _8
last two _4 last one ] nice straight into your rows _2 [ and pull _10 elbows to the hips _8 three more _4 last one and
stay up at the top tiny pulses pulse pulse pulse _6 three two one ] and down lovely have a drink of water _45
second superset put one of the weights away split squats left leg in front first ten reps on this side ready _1
[ and down knee soft _10 tall chest _10 five more _8 last one ] and switch sides right leg now ten reps _2
[ and step back _10 control it _10 five more _8 last one ] good now get down on the floor push-ups knees down if you
like ten reps let's go _1 [ and down chest to the floor _8 press away _8 four more _6 last one ] and rest _40
round two split squats left leg again ten reps go _1 [ and down _10 nice and tall _10 five more _8 last one ] other leg
right side ten reps _2 [ and down _10 lovely _10 five more _8 last one ] and your push-ups last time ten reps go _1
[ and down _8 keep the tummy tight _8 four more _6 last one ] and we are done well done everybody _15
okay let's cool down come and sit on your mat for a seated forward fold legs out long and reach for your toes hold it
for thirty seconds [ and breathe out as you fold _14 soft shoulders _12 ] and come up slowly _4 lie down on your back
and hug your knees to your chest [ and hold it there breathe _25 ] and that's us thank you so much for today
see you next week
"""

GOBLET, ROW, SPLIT, PUSH = "goblet-squat", "bent-over-row", "split-squat", "push-up"
MAIN = [GOBLET, ROW, GOBLET, ROW, SPLIT, SPLIT, PUSH, SPLIT, SPLIT, PUSH]
