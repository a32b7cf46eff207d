
pub(crate) const HOP: usize = 4;
pub(crate) mod isomerise { pub(crate) fn hop_rates(k1:f64,k2:f64,phi:f64,e:f64,p:&[f64;4],o:&mut [f64;4]){ let a=e*p[0]; let b=k1*phi*p[1]; let c=k2*p[2]; o[0]-=a; o[1]+=a-b; o[2]+=b-c; o[3]+=c; } }
pub(crate) mod chill { 
 pub(crate) fn coil_heat_w(ua:f64,c:f64,t:f64,ti:f64)->f64{ c*(1.0-(-ua/c).exp())*(t-ti) }
 pub(crate) fn counterflow_heat_w(ua:f64,h:f64,c:f64,t:f64,ti:f64)->f64{ let (a,b)=(h.min(c),h.max(c)); let r=a/b; let n=ua/a; let e= if (1.0-r)<1e-6 {n/(1.0+n)} else {let x=(-n*(1.0-r)).exp(); (1.0-x)/(1.0-r*x)}; e*a*(t-ti)} }
