package manual_test

// A readCase is a text, and its Lines as told writes them.
type readCase struct{ name, text, want string }

// cellCases are about cells, columns and where units come from.
var cellCases = []readCase{
	{
		"units beside the numbers",
		"M6 10 N·m (89 in-lb)\nM8\t25 N·m\t18 ft-lb\n• M10 x 1.5 – 49 Nm",
		"1 <M6> M6 10N.m 89lbf.in agree\n2 <M8> M8 25N.m 18lbf.ft agree\n3 <M10 x 1.5> M10 49N.m",
	},
	{
		"bars",
		"Size | N·m | in-lb\n---|---|---\nM6 | 10 | 89\nM8 | 25 | 221",
		"3 <M6> M6 10N.m 89lbf.in agree\n4 <M8> M8 25N.m 221lbf.in agree",
	},
	{"bars around", "| Size | N·m |\n|---|---|\n| M6 | 10 |\n| M8 | |", "3 <M6> M6 10N.m\n4 <M8> M8 no_torque"},
	{
		"single blanks",
		"Size N·m in-lb\nM6 10 89\nM6 x 1.0 8-10 71-89",
		"2 <M6> M6 10N.m 89lbf.in agree\n3 <M6 x 1.0> M6 8N.m…10N.m 71lbf.in…89lbf.in agree",
	},
	{
		"commas",
		"Size,N·m,in-lb\nM6,10,89\nM8x1,25,10,89\nM8,25.5,226",
		"2 <M6> M6 10N.m 89lbf.in agree\n3 <M8x1,25> M8 ambiguous\n4 <M8> M8 25.5N.m 226lbf.in agree",
	},
	{"commas and quotes", "\"M6\",\"10 N·m\",\"89 in-lb\"", "1 <M6> M6 10N.m 89lbf.in agree"},
	{
		"two units over one column",
		"Thread        Torque, N·m (in-lb)\nM6            10 (89)\nM8 x 1,25     25 (221)",
		"2 <M6> M6 10N.m 89lbf.in agree\n3 <M8 x 1,25> M8 25N.m 221lbf.in agree",
	},
	{
		"aligned, a cell missing",
		"Bolt            N·m      ft-lb\nM6               10\nM8                          18",
		"2 <M6> M6 10N.m\n3 <M8> M8 18lbf.ft",
	},
	{
		"tabs, cells missing",
		"Thread\tN·m\tft-lb\n\t25\t18\nM6\t10\t\nM8\t\t18",
		"2 25N.m 18lbf.ft agree\n3 <M6> M6 10N.m\n4 <M8> M8 18lbf.ft",
	},
	{"semicolons", "Size;N·m\nM6;10\nM8;25", "2 <M6> M6 10N.m\n3 <M8> M8 25N.m"},
	{"the unit in a cell of its own", "M6 | 10 | N·m\nM8 |25| N·m | 18 | ft-lb", "1 <M6> M6 10N.m\n2 <M8> M8 25N.m 18lbf.ft agree"},
	{"units behind both numbers", "10 (89) N·m (in-lb)\nM6 10/89 N·m/in-lb", "1 10N.m 89lbf.in agree\n2 <M6> M6 10N.m 89lbf.in agree"},
	{
		"a unit for the whole table",
		"All torques in N·m\n1. M6 10 cover\nM8  25  pan (4 pcs)\n2 M8 25\nM8 4 25",
		"2 <M6> M6 10N.m\n3 <M8> M8 25N.m\n4 <M8> M8 25N.m\n5 <M8> M8 ambiguous",
	},
}

// sizeCases are about sizes and property classes.
var sizeCases = []readCase{
	{
		"classes over columns",
		"Size | 8.8 | 10.9\n | N·m | N·m\nM6 | 10 | 15\nM8 | 25 | 36",
		"3 <M6> M6 class 8.8 10N.m\n3 <M6> M6 class 10.9 15N.m\n4 <M8> M8 class 8.8 25N.m\n" +
			"4 <M8> M8 class 10.9 36N.m",
	},
	{
		"classes with units over columns",
		"Size   8.8 N·m   10.9 N·m\nM6     10        14",
		"2 <M6> M6 class 8.8 10N.m\n2 <M6> M6 class 10.9 14N.m",
	},
	{"sizes over columns", "M6 | M8 | M10\n10 N·m | 25 N·m | 49 N·m", "2 <M6> M6 10N.m\n2 <M8> M8 25N.m\n2 <M10> M10 49N.m"},
	{"several sizes in a line", "M6: 10 N·m, M8: 25 N·m, M10: 49 N·m", "1 <M6> M6 10N.m\n1 <M8> M8 25N.m\n1 <M10> M10 49N.m"},
	{"several sizes behind", "10 N·m for M6, 25 N·m for M8", "1 <M6> M6 10N.m\n1 <M8> M8 25N.m"},
	{
		"classes",
		"Valve body bolts\nM6 - 8.8 - 10 N·m\nM6 8.8 10 Nm\nM6 class 10.9: 14 Nm\nM6 8.8 - 10 Nm",
		"2 <M6> M6 class 8.8 10N.m\n3 <M6> M6 class 8.8 10N.m\n4 <M6> M6 class 10.9 14N.m\n" +
			"5 <M6> M6 8.8N.m…10N.m",
	},
	{"a column of classes", "Size|Class|N·m\nM6|8.8|10\nM6|10.9|14", "2 <M6> M6 class 8.8 10N.m\n3 <M6> M6 class 10.9 14N.m"},
	{"a class above", "Property class 8.8\nSize;N·m\nM6;10", "3 <M6> M6 class 8.8 10N.m"},
	{
		"inches",
		"1/4-20 UNC 8 ft-lb (11 N·m)\n#10-32 32 in-lb\n10-24 UNC 30 in-lb\n5/16\"-18  18 ft. lbs.\n" +
			"3/8 in 18 ft-lb\nNo. 10-32  30 in-lb",
		"1 <1/4-20 UNC> 8lbf.ft 11N.m agree\n2 <#10-32> 32lbf.in\n3 <10-24 UNC> 30lbf.in\n" +
			"4 <5/16\"-18> 18lbf.ft\n5 <3/8 in> 18lbf.ft\n6 <No. 10-32> 30lbf.in",
	},
	{"fractions", "1/4-20 7 1/2 ft-lb\n7½ ft-lb\n7-1/2 ft-lb", "1 <1/4-20> 7.5lbf.ft\n2 7.5lbf.ft\n3 7.5lbf.ft"},
	{
		"what metric sizes look like",
		"M6 x 20  10 N·m\nM8x1.25x30 - 25Nm\nM6-1.0 10Nm\nM6-10 Nm\n4xM6 10Nm\nM6 x4 12 Nm\nM12A 3 Nm\n" +
			"M6-6g 9 Nm\nm8*1 25 Nm\nM8×0.9 25 Nm\nM30 900 Nm\nM6 x 10 N·m",
		"1 <M6 x 20> M6 10N.m\n2 <M8x1.25x30> M8 25N.m\n3 <M6-1.0> M6 10N.m\n4 <M6> M6 10N.m\n" +
			"5 <M6> M6 10N.m\n6 <M6 x4> M6 12N.m\n7 3N.m\n8 <M6-6g> M6 9N.m\n9 <m8*1> M8x1 25N.m\n" +
			"10 <M8×0.9> 25N.m\n11 <M30> 900N.m\n12 <M6> M6 10N.m",
	},
	{"bare diameters", "Size (mm)\tTorque (Nm)\n6\t10\n8x1\t27", "2 <6> M6 10N.m\n3 <8x1> M8x1 27N.m"},
}

// figureCases are about numbers, faults, and lines that are not read.
var figureCases = []readCase{
	{
		"ranges",
		"M6 8–10 N·m\n8 N·m to 10 N·m\n8...10 ft-lb\n8 - 10 N·m (71 - 89 in-lb)\n8 N·m – 71 in-lb",
		"1 <M6> M6 8N.m…10N.m\n2 8N.m…10N.m\n3 8lbf.ft…10lbf.ft\n4 8N.m…10N.m 71lbf.in…89lbf.in agree\n" +
			"5 8N.m 71lbf.in agree",
	},
	{
		"tolerances that are others downwards",
		"M6 10 +2/-1 N·m\nM8 25 +5 -3 N·m\n10 (+0.5/−0.5) N·m\n10 N·m (+2/-0)\nM6 10 +2/-1 N·m (89 in-lb)\n20 +10 %/-5 % N·m\nM8 20 + 5 N·m\n" +
			"10 N·m +2 N·m/-1 N·m",
		"1 <M6> M6 10N.m±2N.m−1N.m\n2 <M8> M8 25N.m±5N.m−3N.m\n3 10N.m±0.5N.m−0.5N.m\n4 10N.m±2N.m−0N.m\n" +
			"5 <M6> M6 10N.m±2N.m−1N.m 89lbf.in agree\n6 20N.m±10%−5%\n7 <M8> M8 ambiguous\n8 10N.m±2N.m−1N.m",
	},
	{
		"tolerances in other spellings",
		"M6 10 +/− 1 N·m\n10 +/– 1 N·m\n10 + / - 1 Nm\n10 plus or minus 1 Nm\nM6 25 -3/+5 N·m\n10 -1/+2 Nm\n25 -0/+5 Nm\n10 N·m ± 10 percent\n" +
			"10 N·m +20/-10 Prozent\n25 N·m (±3) / 18 ft-lb\n10 N·m 1) (89 in-lb)\n25 N·m (4) 221 ft-lb\nM8 25 N·m (+5/-2), 221 ft-lb",
		"1 <M6> M6 10N.m±1N.m\n2 10N.m±1N.m\n3 10N.m±1N.m\n4 10N.m±1N.m\n5 <M6> M6 25N.m±5N.m−3N.m\n6 10N.m±2N.m−1N.m\n7 25N.m±5N.m−0N.m\n" +
			"8 10N.m±10%\n9 10N.m±20%−10%\n10 25N.m±3N.m 18lbf.ft agree\n11 10N.m 89lbf.in agree\n12 25N.m 221lbf.ft disagree\n" +
			"13 <M8> M8 25N.m±5N.m−2N.m 221lbf.ft disagree",
	},
	{
		"numbers of parts, leader dots, and several numbers with one unit",
		"Solenoid 1 ....... 10 N·m\nSpeed sensor 3 ........ 5.5 N·m (49 in-lb)\nPos. 5 – 10 N·m\nItem 5 - 10 N·m\nM6: 10, M8: 25 Nm\n" +
			"M6 10, M8 25, M10 49 Nm\nM6 | 10 | 1 | Nm\nPan M6\t10\t14\tNm\n8...10 Nm\n(1) 20 N·m (2) 60 N·m",
		"1 10N.m\n2 5.5N.m 49lbf.in agree\n3 10N.m\n4 10N.m\n5 <M6> M6 10N.m\n5 <M8> M8 25N.m\n6 <M6> M6 10N.m\n6 <M8> M8 25N.m\n" +
			"6 <M10> M10 49N.m\n7 <M6> M6 ambiguous\n8 <M6> M6 ambiguous\n9 8N.m…10N.m\n10 60N.m [20N.m 60N.m]",
	},
	{
		"fractions in a range",
		"6 1/2 - 7 1/2 ft-lb\n1/4-20 7 1/2 ± 1/2 ft-lb\n10 1/2 - 12 ft-lb\n6-1/2 to 7-1/2 ft-lb\n1/4-20 10 ft-lb",
		"1 6.5lbf.ft…7.5lbf.ft\n2 <1/4-20> 7.5lbf.ft±0.5lbf.ft\n3 10.5lbf.ft…12lbf.ft\n4 6.5lbf.ft…7.5lbf.ft\n5 <1/4-20> 10lbf.ft",
	},
	{
		"ranges in words, and two figures that may be one",
		"M6 min 9 max 11 N·m\nM6 min. 9 N·m max. 11 N·m\nM6 between 9 and 11 N·m\nM6 9 or 11 N·m\nM6 9, 11 N·m\nmax. 11 N·m\nPos. 3, 10 N·m\n" +
			"2 and 3: 10 N·m",
		"1 <M6> M6 9N.m…11N.m\n2 <M6> M6 9N.m…11N.m\n3 <M6> M6 9N.m…11N.m\n4 <M6> M6 ambiguous\n5 <M6> M6 ambiguous\n6 11N.m\n7 10N.m\n" +
			"8 10N.m",
	},
	{
		"tolerances",
		"10 ± 1 N·m (88 ± 9 in-lb)\n10 Nm ± 10 %\n9 N·m +/- 1 N·m",
		"1 10N.m±1N.m 88lbf.in±9lbf.in agree\n2 10N.m±10%\n3 9N.m±1N.m",
	},
	{
		"notes and other numbers",
		"Drain plug ........ 39 N·m (4.0 kgf·m, 29 ft-lb)\n10 Nm + 90°\n" +
			"Bolt, M8 flange, 25 N·m, 18 lb-ft, 4 pcs, 30 mm",
		"1 39N.m 4.0kgf.m 29lbf.ft agree\n2 10N.m +90°\n3 <M8> M8 25N.m 18lbf.ft agree",
	},
	{
		"tight",
		"25Nm/18ftlb\nM8 25Nm(18ft/lbs)\nM8=10,5Nm\nM8 18 lbs.-ft.",
		"1 25N.m 18lbf.ft agree\n2 <M8> M8 25N.m 18lbf.ft agree\n3 <M8> M8 10.5N.m\n4 <M8> M8 18lbf.ft",
	},
	{
		"line ends, no-break spaces, a byte order mark",
		"\ufeffM6\u00a0×\u00a01.0\u00a0\u00a0\u00a010\u00a0N·m\r\n\r\nM8 25 Nm\rM10 49 N\u22c5m",
		"1 <M6 × 1.0> M6 10N.m\n3 <M8> M8 25N.m\n4 <M10> M10 49N.m",
	},
	{
		"faults",
		"1,250 N·m\nM6 1 250 N·m\n1.2.3 Nm\n0 N·m\nM6\n10–8 N·m\n1e999 N.m\nM6 8/10 N·m\nM6 7.5 mm 4 pcs",
		"1 ambiguous\n2 <M6> M6 ambiguous\n3 unreadable\n4 unreadable\n5 <M6> M6 no_torque\n6 ambiguous\n" +
			"7 unreadable\n8 <M6> M6 ambiguous\n9 <M6> M6 no_torque",
	},
	{
		"pairs that do not agree",
		"M10 210 N·m (115 lb ft)\n10 N·m 1.0 kgf·m 89 ft-lb\n8–10 N·m (71–98 in-lb)\n8-10 N·m (80 in-lb)",
		"1 <M10> M10 210N.m 115lbf.ft disagree\n2 10N.m 1.0kgf.m 89lbf.ft disagree\n" +
			"3 8N.m…10N.m 71lbf.in…98lbf.in disagree\n4 8N.m…10N.m 80lbf.in",
	},
	{"nothing", " \n\t\r\n---\n", ""},
	{"titles", "Stage 1\nTorques with a 90° adapter\nM6 10 N·m", "3 <M6> M6 10N.m"},
	{"words alone", "Tighten crosswise\nin two passes", ""},
}

// stageCases are about stages of tightening and angles.
var stageCases = []readCase{
	{
		"then an angle",
		"20 N·m + 90°\n20 Nm + 90 deg\n20 Nm then 90°\nM10 50 N·m, 120 degrees further\n" +
			"20 N·m (15 ft-lb) + 90°\n20 Nm/90°\n20 Nm +90\n20 Nm und 90 Grad\n20 Nm + 2 x 90°\n" +
			"20 Nm + 90° + 45°\n20 Nm + 90 ± 5°\n20 Nm + 90° ± 5°\n20 Nm, 85–95°\n20 Nm + 62,5°\n" +
			"20 Nm + 90° head bolts",
		"1 20N.m +90°\n2 20N.m +90°\n3 20N.m +90°\n4 <M10> M10 50N.m +120°\n5 20N.m 15lbf.ft +90° agree\n" +
			"6 20N.m +90°\n7 20N.m +90°\n8 20N.m +90°\n9 20N.m +90°\n10 20N.m +45°\n11 20N.m +90°\n" +
			"12 20N.m +90°\n13 20N.m +85°\n14 20N.m +62.5°\n15 20N.m +90°",
	},
	{
		"then a part of a turn",
		"20 N·m + 1/4 turn\n20 Nm, then 1/2-turn\n20 ft-lb + ¼ turn\n20 Nm, then a quarter turn\n" +
			"20 Nm + 2/3 turn\n20 Nm plus 1 turn\n20 Nm, 1/4 Umdrehung",
		"1 20N.m +90°\n2 20N.m +180°\n3 20lbf.ft +90°\n4 20N.m +90°\n5 20N.m +240°\n6 20N.m +360°\n" +
			"7 20N.m +90°",
	},
	{
		"no angle to turn by",
		"10 N·m at 20 °C\n10 N·m (90° adapter)\n45° flare fitting 20 N·m\n10 N·m at 20 deg C\n20 N·m +2/-1\n" +
			"89 in-lb +15/-10\nM6 10 Nm + 4 pcs\n10 N·m ± 10 %",
		"1 10N.m\n2 10N.m\n3 20N.m\n4 10N.m\n5 20N.m±2N.m−1N.m\n6 89lbf.in±15lbf.in−10lbf.in\n" +
			"7 <M6> M6 10N.m\n8 10N.m±10%",
	},
	{
		"a column of angles",
		"Size | N·m | Angle\nM10 | 50 | 90\nM12 | 80 | 120°\nM8 | 25 | –\nM14 | 100 |",
		"2 <M10> M10 50N.m +90°\n3 <M12> M12 80N.m +120°\n4 <M8> M8 25N.m\n5 <M14> M14 100N.m",
	},
	{
		"a column of angles, single blanks",
		"Size N·m °\nM10 50 90\nM12 80 120°\nM8 25",
		"2 <M10> M10 50N.m +90°\n3 <M12> M12 80N.m +120°\n4 <M8> M8 ambiguous",
	},
	{
		"a column of angles, in German",
		"Gewinde\tNm\tDrehwinkel (Grad)\nM10\t50\t90\nM12\t80\t1,5",
		"2 <M10> M10 50N.m +90°\n3 <M12> M12 80N.m +1.5°",
	},
	{"a column of angles before", "Size  Angle  N·m\nM10   90     50", "2 <M10> M10 50N.m +90°"},
	{"an angle for all", "Size | N·m + 90°\nM10 | 50\nM12 | 80 + 120°", "2 <M10> M10 50N.m +90°\n3 <M12> M12 80N.m +120°"},
	{"both in one column", "Size | N·m + °\nM10 | 50 + 90\nM12 | 80 120", "2 <M10> M10 50N.m +90°\n3 <M12> M12 80N.m +120°"},
	{
		"an angle on its own line",
		"M10 50 N·m\nthen 90°\nthen 45°\nM12 80 N·m\nNotes\n30°",
		"1 <M10> M10 50N.m +45°\n2 +90° no_torque\n3 +45° no_torque\n4 <M12> M12 80N.m\n6 +30° no_torque",
	},
	{
		"angles of several sizes",
		"M8 20 N·m + 60°, M10 40 N·m + 90°, M12 70 N·m\n20 N·m + 60° for M8, 40 N·m + 90° for M10",
		"1 <M8> M8 20N.m +60°\n1 <M10> M10 40N.m +90°\n1 <M12> M12 70N.m\n2 <M8> M8 20N.m +60°\n" +
			"2 <M10> M10 40N.m +90°",
	},
	{
		"stages",
		"20 Nm then 35 Nm\nstage 1: 30 N·m, stage 2: 60 N·m, stage 3: +90°\n1st 15 Nm 2nd 30 Nm (22 ft-lb)\n" +
			"20 N·m (15 ft-lb), then 35 N·m (26 ft-lb)\n30 N·m; 60 N·m; 90°\n20 Nm + 35 Nm\n" +
			"step 1 20 Nm step 2 15 ft-lb\n20 Nm → 35 Nm\n20 Nm -> 35 Nm + 90°\n" +
			"first pass 5 N·m, second pass 10 N·m (89 in-lb)\n1. Stufe 20 Nm, 2. Stufe 40 Nm, 3. Stufe 90°\n" +
			"1) 20 Nm 2) 40 Nm\nin 2 stages: 20 Nm, 35 Nm\n20–25 Nm then 35–40 Nm\ninitial 15 N·m final 30 N·m\n" +
			"pass 20 Nm, pass 35 Nm",
		"1 35N.m [20N.m 35N.m]\n2 60N.m [30N.m 60N.m] +90°\n3 30N.m 22lbf.ft [15N.m 30N.m] agree\n" +
			"4 35N.m 26lbf.ft [20N.m 35N.m] agree\n5 60N.m [30N.m 60N.m] +90°\n6 35N.m [20N.m 35N.m]\n" +
			"7 15lbf.ft [20N.m 15lbf.ft]\n8 35N.m [20N.m 35N.m]\n9 35N.m [20N.m 35N.m] +90°\n" +
			"10 10N.m 89lbf.in [5N.m 10N.m] agree\n11 40N.m [20N.m 40N.m] +90°\n12 40N.m [20N.m 40N.m]\n" +
			"13 35N.m [20N.m 35N.m]\n14 35N.m…40N.m [20N.m 35N.m]\n15 30N.m [15N.m 30N.m]\n16 35N.m [20N.m 35N.m]",
	},
	{
		"stages over columns",
		"Size | Stage 1 N·m | Stage 2 (N·m) | Stage 3 °\nM10 | 20 | 40 | 90\nM12 | 30 | 60 |",
		"2 <M10> M10 40N.m [20N.m 40N.m] +90°\n3 <M12> M12 60N.m [30N.m 60N.m]",
	},
	{
		"stages over columns, in two units",
		"Size;1st Nm;1st ft-lb;2nd Nm;2nd ft-lb\nM10;20;15;40;30",
		"2 <M10> M10 40N.m 30lbf.ft [20N.m 40N.m] agree",
	},
	{"stages over columns, single blanks", "Size 1st Nm 2nd Nm Angle\nM10 20 40 90", "2 <M10> M10 40N.m [20N.m 40N.m] +90°"},
	{
		"no stages",
		"39 N·m (4.0 kgf·m, 29 ft-lb)\n10 N·m 12 N·m (106 in-lb)\n20 N·m (15 ft-lb), 35 N·m (26 ft-lb)\n" +
			"8 N·m 10 N·m 71 in-lb 89 in-lb\nSecond gear M8 25 N·m 18 ft-lb\n10 N·m (max 12 N·m)",
		"1 39N.m 4.0kgf.m 29lbf.ft agree\n2 10N.m 12N.m 106lbf.in agree\n" +
			"3 20N.m 15lbf.ft 35N.m 26lbf.ft agree\n4 8N.m 10N.m 71lbf.in 89lbf.in agree\n" +
			"5 <M8> M8 25N.m 18lbf.ft agree\n6 10N.m 12N.m",
	},
	{
		"slips in stages",
		"1st 15 Nm (22 ft-lb) 2nd 30 Nm (22 ft-lb)\n1st 15 Nm 2nd 30 Nm (33 ft-lb)",
		"1 30N.m 22lbf.ft [15N.m 30N.m] disagree\n2 30N.m 33lbf.ft [15N.m 30N.m] disagree",
	},
}
