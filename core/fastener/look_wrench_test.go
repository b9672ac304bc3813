package fastener_test

import (
	"fmt"
	"testing"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

func TestLookTable(t *testing.T) {
	for _, text := range []string{
		"M6 10 N·m (89 in-lb)\nM8\t25 N·m\t18 ft-lb\n• M10 x 1.5 – 49 Nm\n",
		"Size | N·m | in-lb\n---|---|---\nM6 | 10 | 89\nM8 | 25 | 221\n",
		"Size N·m in-lb\nM6 10 89\nM6 x 1.0 8-10 71-89\n",
		"Size,N·m,in-lb\nM6,10,89\nM8x1,25,10,89\nM8,25.5,221\n",
		"Thread        Torque, N·m (in-lb)\nM6            10 (89)\nM8 x 1,25     25 (221)\n",
		"Bolt            N·m      ft-lb\nM6               10\nM8               25         18\n",
		"Size | 8.8 | 10.9 | 12.9\n | N·m | N·m | N·m\nM6 | 10 | 15 | 18\nM8 | 25 | 36 | 43\n",
		"M6: 10 N·m, M8: 25 N·m, M10: 49 N·m",
		"Valve body bolts\nM6 - 8.8 - 10 N·m\nM6 8.8 10 Nm\nM6 class 10.9: 14 Nm\n",
		"1/4-20 UNC 8 ft-lb (11 N·m)\n#10-32 32 in-lb\n10-24 UNC 30 in-lb\n5/16\"-18  18 ft. lbs.\n1/4-20 7 1/2 ft-lb\n3/8 in 7½ ft-lb",
		"1,250 N·m\nM6 1 250 N·m\n1.2.3 Nm\n0 N·m\nM6\n10–8 N·m\n1e999 N.m\n",
		"10 ± 1 N·m (88 ± 9 in-lb)\n10 Nm ± 10 %\n9 N·m +/- 1 N·m\n10 Nm + 90°\n",
		"M6 | 10 | N·m\nM8 |25| N·m | 18 | ft-lb\n",
		"10 (89) N·m (in-lb)\nM6 10/89 N·m/in-lb\n",
		"All torques in N·m\n1. M6 10 cover\nM8  25  pan (4 pcs)\n2 M8 25",
		"M6 | M8 | M10\n10 N·m | 25 N·m | 49 N·m\n",
		"Size (mm)\tTorque (Nm)\n6\t10\n8\t25\n8x1\t27\n",
		"M6 x 20  10 kgf·cm (0.98 N·m, 8.7 in-lb)\nM8x1.25x30 - 25Nm\nM6-1.0 10Nm\nM6-10 Nm\n4xM6 10Nm\nM6 x4 12 Nm\nM12A 3 Nm\nM6-6g 9 Nm",
		"Property class 8.8\nSize;N·m\nM6;10\nM8;25\n",
		"Thread\tN·m\tft-lb\n\t25\t18\nM6\t10\t\nM8\t\t18",
		"Size|Class|N·m\nM6|8.8|10\nM6|10.9|14\nM6|10.9|15",
		"M6 8/10 N·m\nM6 x 10 N·m\nM6 × 10 N·m\n25 Nm/18 ft-lb\nM8: 25Nm/18ftlb\nM8 25Nm(18ft/lbs)",
		"Size   8.8 N·m   10.9 N·m\nM6   10   14\nM8 25 36",
		"Bolt, M8 flange, 25 N·m, 18 lb-ft\nDrain plug ........ 39 N·m (4.0 kgf·m, 29 ft-lb)\nStage 1: 20 N·m; stage 2: 90°\nM6 7.5 mm 4 pcs",
		"\"M6\",\"10 N·m\",\"89 in-lb\"\nM6\u00a0\u00d7\u00a01.0\u00a0\u00a0\u00a010\u00a0N\u00b7m\r\nM8\r25 Nm",
		"M6 210 N·m (115 lb ft)\nM6 12 Nm to 14 Nm\nM6 12 to 14 Nm (9...10 ft-lb)\nM6 8 Nm – 71 in-lb",
	} {
		fmt.Println("=====\n" + text)
		tab := fastener.ReadTable(text, quantity.Point)
		for _, l := range tab.Lines {
			th := ""
			if l.Thread != nil {
				th = l.Thread.String()
			}
			fmt.Printf("%d size=%q thread=%s d=%v class=%s fault=%s %v", l.Number, l.Size, th, float64(l.Diameter), l.Class, l.Fault, l.Reads)
			for _, f := range l.Figures {
				fmt.Printf(" [%s", f.Value)
				if f.Ranges() {
					fmt.Printf(" to %s", f.To)
				}
				if f.Within.Digits != "" {
					fmt.Printf(" ± %s", f.Within)
				}
				fmt.Print("]")
			}
			if l.Pair != nil {
				fmt.Printf(" %s", l.Pair.Verdict)
				for _, s := range l.Pair.Slips {
					fmt.Printf(" {%s %d %s}", s, s.Figure, s.Meant)
				}
			}
			fmt.Println()
		}
		fmt.Println("headings", tab.Headings, "falls", tab.Falls(), "differs", tab.Differs())
	}
}
