package geodesy

// inventedGrids are definitions of no real grid, of every family that is read,
// in PROJ strings that cs2cs reads alike.
func inventedGrids() []string {
	return []string{
		"+proj=tmerc +lat_0=57.25 +lon_0=-4.125 +k=0.99997 +x_0=120000 +y_0=-40000 +a=6377563.396 +b=6356256.909 +towgs84=446.448,-125.157,542.06,0.15,0.247,0.842,-20.489",
		"+proj=tmerc +lat_0=-43.5 +lon_0=171.75 +k=1 +x_0=300000 +y_0=700000 +datum=nzgd49",
		"+proj=tmerc +lat_0=0 +lon_0=15d20'30\"E +k_0=0.9999 +x_0=5500000 +y_0=0 +ellps=bessel +towgs84=577.326,90.129,463.919,5.137,1.474,5.297,2.4232",
		"+proj=tmerc +lat_0=40.5 +lon_0=-112 +k=0.99999 +x_0=152400.3048006096 +y_0=0 +datum=NAD83 +units=us-ft",
		"+proj=tmerc +lat_0=10 +lon_0=76 +k=0.9995 +x_0=500000 +y_0=500000 +ellps=evrst30",
		"+proj=utm +zone=35 +ellps=krass +towgs84=24,-123,-94,0.02,-0.25,-0.13,1.1",
		"+proj=utm +zone=19 +south +ellps=intl +towgs84=-288,175,-376",
		"+proj=lcc +lat_1=61.5 +lat_0=61.5 +lon_0=-147 +k_0=0.9998 +x_0=250000 +y_0=90000 +datum=WGS84",
		"+proj=lcc +lat_1=63 +lat_2=67.5 +lat_0=64 +lon_0=-18 +x_0=400000 +y_0=300000 +ellps=intl +towgs84=-73,46,-86",
		"+proj=lcc +lat_1=-33 +lat_2=-45 +lat_0=-39 +lon_0=146 +x_0=2500000 +y_0=2500000 +ellps=GRS80 +units=km",
		"+proj=lcc +lat_1=46.8 +lat_0=46.8 +lon_0=0 +k_0=0.99987742 +x_0=600000 +y_0=200000 +a=6378249.2 +rf=293.466021293627 +pm=paris +towgs84=-168,-60,320",
		"+proj=laea +lat_0=64.5 +lon_0=-50.25 +x_0=100000 +y_0=100000 +datum=WGS84",
		"+proj=laea +lat_0=-90 +lon_0=12 +x_0=0 +y_0=0 +ellps=GRS80",
		"+proj=somerc +lat_0=42.25 +lon_0=1.5 +k_0=0.99995 +x_0=50000 +y_0=70000 +ellps=intl +towgs84=-87,-98,-121",
		"+proj=omerc +lat_0=-13.5 +lonc=47.25 +alpha=90 +gamma=90 +k=0.9995 +x_0=400000 +y_0=800000 +ellps=intl",
		"+proj=merc +lon_0=110 +k=0.997 +x_0=3900000 +y_0=900000 +ellps=bessel",
		"+proj=merc +lon_0=51 +lat_ts=42 +x_0=0 +y_0=0 +ellps=krass",
		"+proj=webmerc +lon_0=15 +x_0=1000 +y_0=2000 +datum=WGS84",
		"+proj=stere +lat_0=-90 +lat_ts=-71 +lon_0=70 +x_0=6000000 +y_0=6000000 +datum=WGS84",
		"+proj=stere +lat_0=90 +lon_0=-45 +k=0.994 +x_0=2000000 +y_0=2000000 +ellps=intl",
		"+proj=stere +lat_0=90 +lat_ts=70 +lon_0=10 +x_0=0 +y_0=0 +ellps=GRS80",
		"+proj=tmerc +lat_0=56 +lon_0=-4 +k=0.9999 +x_0=100000 +y_0=200000 +datum=OSGB36",
		"+proj=tmerc +lat_0=56 +lon_0=-4 +k=0.9999 +x_0=100000 +y_0=200000 +datum=OSGB36 +to_meter=0.3048 +title=Isle_survey",
		"+proj=tmerc +lat_0=50 +lon_0=9.25 +k=1 +x_0=200000 +y_0=200000 +datum=potsdam",
		"+proj=longlat +ellps=intl +towgs84=-87,-98,-121",
		"+proj=longlat +ellps=clrk80ign +pm=paris",
	}
}
