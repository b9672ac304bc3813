// Package fastener answers what a tightening torque means: what a wrench has to be set to, what a torque does to a bolt and
// to the thread it goes into, whether two printed torques agree, and in which order the bolts of a plate are tightened.
//
// A thread's size alone does not give its torque: class, friction, what it goes into and how deep decide, and what the maker
// of the thing prints takes precedence. Nothing here says that a part is good.
package fastener
