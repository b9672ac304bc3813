// Package fastener answers what a tightening torque means: what a wrench has to be set to, what a torque does to a bolt and to the
// thread it goes into, and whether two printed torques agree.
//
// The size of a thread does not give its torque: class, friction, what it goes into and how deep all count, and what the maker of the
// thing prints takes precedence. Nothing here says that a part is good.
package fastener
